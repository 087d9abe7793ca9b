/** What stands for the name of a member who left; names nobody, and tells one from another. */
export function pseudonymOf(memberId: string): string {
  return `Former member ${memberId.slice(0, 8)}`;
}
