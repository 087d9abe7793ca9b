/** A competence as people read it: “Press operation” for `press-operation`. */
export function nameOfCompetence(competence: string): string {
  const words = competence.replaceAll('-', ' ');
  return `${words.slice(0, 1).toUpperCase()}${words.slice(1)}`;
}

/** Several of them, in their order. */
export function namesOfCompetences(competences: readonly string[]): string {
  return competences.map(nameOfCompetence).join(', ');
}
