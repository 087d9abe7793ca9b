/** What the choices of tone say. */
export const THEME_WORDS = { auto: 'As the system has it', light: 'Light', dark: 'Dark' } as const;
