import type { Actor } from '../../server/context.js';
import type { Tx } from '../../server/database/transaction.js';
import { accept } from '../../server/http/refused.js';
import { answerPart } from '../../server/inductions/answer-part.js';
import { askForWitness } from '../../server/inductions/ask-for-witness.js';
import { contentsOf } from '../../server/inductions/contents-of.js';
import { declareFounding } from '../../server/inductions/declare-founding.js';
import { FIRST_COMPETENCES, layFirstContents } from '../../server/inductions/first-contents.js';
import { signOff } from '../../server/inductions/sign-off.js';
import { inductionOf } from '../../server/inductions/store.js';
import type { YardMember } from './gullwing-yard.js';

const DAY_MS = 86_400_000;
const EVERYTHING = FIRST_COMPETENCES.map(({ name }) => name);

/** Who is signed off for what, by whom, in the order in which it came about: Maren founded, then taught the others. */
const SIGNED: readonly (readonly [YardMember, readonly string[], YardMember])[] = [
  ['odile', EVERYTHING, 'maren'],
  ['kofi', EVERYTHING, 'maren'],
  ['wren', ['press-operation', 'plate-change', 'drying-oven'], 'odile'],
  ['tamsin', ['press-operation', 'plate-change', 'granulator'], 'odile'],
  ['bram', ['press-operation', 'plate-change'], 'kofi'],
  ['ishaan', ['press-operation', 'plate-change'], 'kofi'],
  ['nuria', ['press-operation', 'plate-change', 'drying-oven'], 'odile'],
  ['petra', ['press-operation', 'plate-change'], 'kofi'],
  // Jory may run the press but not change plates yet, and so cannot book.
  ['jory', ['press-operation'], 'odile'],
];

/** Sign-offs of the yard, by the commands that its people use; and Sunniva, who waits for a witness. */
export async function seedSignOffs(
  tx: Tx,
  members: ReadonlyMap<YardMember, Actor>,
  opened: Date,
  now: Date,
): Promise<void> {
  const actorIn = (key: YardMember): Actor => {
    const actor = members.get(key);
    if (actor === undefined) throw new Error(`Nobody at the yard is called ${key}.`);
    return actor;
  };
  await layFirstContents(tx, opened);
  const note = 'Trained by the maker of the press when it was set up.';
  const declared = { competences: EVERYTHING, note, eighteenOrOlder: true };
  accept(await declareFounding({ actor: actorIn('maren'), now: opened, tx }, declared));
  for (const [i, [member, competences, witness]] of SIGNED.entries()) {
    const at = new Date(opened.getTime() + (i * DAY_MS) / 4);
    for (const competence of competences) {
      accept(
        await signOff({ actor: actorIn(witness), now: at, tx }, [], {
          memberId: actorIn(member).memberId,
          competence,
          note: null,
          requestId: null,
          eighteenOrOlder: true,
          witnessed: contentsOf(await latest(tx, competence)).practical.checklist,
          refreshes: null,
        }),
      );
    }
  }
  await tx.query('update notice set read_at = created_at');
  await answerAll(tx, actorIn('sunniva'), 'press-operation', new Date(now.getTime() - DAY_MS));
}

/** Answers every part rightly and asks for a witness. */
async function answerAll(tx: Tx, actor: Actor, competence: string, at: Date): Promise<void> {
  const ctx = { actor, now: at, tx };
  const induction = await latest(tx, competence);
  for (const [i, { questions }] of contentsOf(induction).parts.entries()) {
    const answers = questions.map(({ answers: offered }) => offered.findIndex(({ right }) => right));
    accept(await answerPart(ctx, { competence, version: induction.version, part: i + 1, answers }));
  }
  accept(await askForWitness(ctx, { competence, note: 'Any evening this week would suit.' }));
}

async function latest(tx: Tx, competence: string) {
  const induction = await inductionOf(tx, competence);
  if (induction === undefined) throw new Error(`There is no induction for ${competence}.`);
  return induction;
}
