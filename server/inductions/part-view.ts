import { inductionFigure, isInductionFigure } from '../pictures/induction-figures.js';
import type { SafeHtml } from '../pictures/safe-html.js';
import { INDUCTION_FORM_ERRORS as WORDS } from '../words/en/inductions.js';
import type { PartOutcome } from './answer-part.js';
import type { Block, FigureShown, InductionPart } from './contents.js';

/** What a part says, as its template takes it. */
export function blockViews(blocks: readonly Block[]) {
  return blocks.map((block) => {
    if (block.kind === 'figures') return { figures: block.figures.map(figureView) };
    return block.kind === 'caution' ? { caution: block.html } : { text: block.html };
  });
}

function figureView({ name, caption, verdict }: FigureShown): {
  readonly picture: SafeHtml | undefined;
  readonly caption: string;
  readonly verdict: FigureShown['verdict'];
} {
  return { picture: isInductionFigure(name) ? inductionFigure(name) : undefined, caption, verdict };
}

/**
 * The questions of a part as choices.
 *
 * @param chosen what was chosen so far
 * @param outcome what became of it; null before anything was answered
 */
export function questionViews(
  { questions }: InductionPart,
  chosen: readonly (number | null)[],
  outcome: PartOutcome | null,
) {
  return questions.map(({ asks, answers }, i) => {
    const judged = outcome?.questions[i];
    return {
      legend: questions.length > 1 ? `${i + 1}. ${asks}` : asks,
      name: `q${i}`,
      items: answers.map(({ text }, place) => ({
        id: `q${i}-${place}`,
        value: String(place),
        text,
        checked: chosen[i] === place,
      })),
      ...(judged !== undefined &&
        judged.why !== null && {
          said: {
            verdict: judged.right ? 'clear' : 'stop',
            word: judged.right ? 'right' : 'not so',
            why: judged.why,
          },
        }),
      ...(judged !== undefined && judged.chosen === null && { missing: WORDS.question(i + 1) }),
    };
  });
}
