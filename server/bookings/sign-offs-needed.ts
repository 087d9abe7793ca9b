/** What a member is signed off for who runs the press with a plate of their own: they mount it themselves. */
export const SIGN_OFFS_NEEDED = ['press-operation', 'plate-change'] as const;
