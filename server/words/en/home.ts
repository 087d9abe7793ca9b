/** Heading of the first page. */
export function homeTitle(makerspaceName: string | undefined): string {
  return makerspaceName === undefined ? 'One press, many plates' : `The press at ${makerspaceName}`;
}

/** The work in its order, each step with where it is done. */
export const HOME_STEPS = [
  {
    name: 'Check the plate before cutting metal',
    more: 'Drop its DXF drawing: holes, thickness, force and walls are held against the bolster and the press, each with its figure, its limit and the nearest cure. No account needed.',
    href: '/check',
    button: 'Check a drawing',
  },
  {
    name: 'Keep the plate',
    more: 'Submit the drawing and its facts; every revision keeps its report, with the bolster and the versions it stood on.',
    href: '/plates',
    button: 'See your plates',
  },
  {
    name: 'Book the press',
    more: 'A week at a glance. A plate whose report has a stop cannot be booked; an hour that somebody has cannot be taken twice.',
    href: '/week',
    button: 'See the week',
  },
  {
    name: 'Run it safely',
    more: 'Guards, heat, fume and who must be within call. Read this before the first time, and again when it has been a while.',
    href: '/cautions',
    button: 'Read the cautions',
  },
] as const;

/** Said once, to who has just joined. */
export const JUST_JOINED = {
  word: 'welcome',
  text: 'Your account is made and you are signed in. Next: read an induction, then ask for a witness.',
} as const;

/** Said while nobody has set the house up. */
export const notSetUpYet = {
  verdict: 'unknown',
  word: 'Not set up',
  text: 'This house has no press and no members yet. Open the one-time link that the service printed when it started.',
} as const;
