import type { Actor } from '../../context.js';
import type { PlateFacts } from '../../engineering/press-facts.js';
import { memberAsking } from '../../http/asker.js';
import { Refusal } from '../../reasons.js';
import { SEVERAL_WORDS } from '../../words/en/plates.js';
import { wordReason } from '../../words/en/reasons.js';
import { reportNow } from '../check-now.js';
import type { CheckReport } from '../check-report-schema.js';
import type { CheckingHouse } from '../checking-house.js';
import { sha256Of } from '../keep-drawing.js';
import { drawingsKept } from '../store.js';
import type { SeveralDrawing } from './several-drawings.js';

/** What a drawing of several is found to be: read with its report, or why not; and whether its file is known. */
export interface SeveralRead extends SeveralDrawing {
  readonly report: CheckReport | null;
  /** Why it cannot be kept, a sentence and a cure each. */
  readonly problems: readonly { readonly text: string; readonly fix?: string }[];
  /** Where the very file is already: kept, or above in this list. */
  readonly same: { readonly text: string; readonly href?: string } | null;
}

/** Reads and checks several drawings one after the other, with the same facts and resin. Nothing is kept. */
export async function readSeveral(
  house: CheckingHouse,
  actor: Actor,
  drawings: readonly SeveralDrawing[],
  { facts, polymer }: { readonly facts: PlateFacts; readonly polymer: string },
): Promise<readonly SeveralRead[]> {
  const hashes = drawings.map(({ drawing }) => (drawing === null ? '' : sha256Of(drawing)));
  const kept = await drawingsKept(house.database, actor.memberId, hashes);
  const read: SeveralRead[] = [];
  for (const [i, one] of drawings.entries()) {
    const hash = hashes[i] ?? '';
    const first = drawings[hashes.indexOf(hash)];
    const known = kept.find(({ dxfSha256 }) => dxfSha256 === hash);
    const same =
      hash !== '' && first !== undefined && first !== one
        ? { text: SEVERAL_WORDS.twice(first.fileName) }
        : known === undefined
          ? null
          : {
              text: SEVERAL_WORDS.keptAlready(known.name, known.revision),
              href: `/plates/${known.plateId}?revision=${known.revision}`,
            };
    read.push({ ...one, same, ...(await readOne(house, actor, one, { facts, polymer })) });
  }
  return read;
}

async function readOne(
  house: CheckingHouse,
  actor: Actor,
  { drawing, tooLarge }: SeveralDrawing,
  said: { readonly facts: PlateFacts; readonly polymer: string },
): Promise<Pick<SeveralRead, 'report' | 'problems'>> {
  if (drawing === null) {
    return { report: null, problems: [{ text: tooLarge ? SEVERAL_WORDS.tooLarge : SEVERAL_WORDS.lost }] };
  }
  const made = await reportNow(house, { dxf: drawing.bytes, bolsterId: null, ...said }, memberAsking(actor));
  if (!(made instanceof Refusal)) {
    return { report: JSON.parse(Buffer.from(made.json).toString()) as CheckReport, problems: [] };
  }
  const problems = made.reasons.map((reason) => {
    const { message, fix } = wordReason(reason);
    return { text: message, fix };
  });
  return { report: null, problems };
}
