/** The browser for the browser tests, or undefined. */
export function findChromium(): string | undefined;
export const HOW_TO_GET_CHROMIUM: string;
