import type { FastifyPluginAsync } from 'fastify';
import type { Actor } from '../context.js';
import { HOME_STEPS, homeTitle, JUST_JOINED, notSetUpYet } from '../words/en/home.js';
import { momentText } from '../words/en/times.js';
import type { House } from './house.js';
import { sendSheet } from './sheet.js';
import { justDone } from './told-once.js';

/** One line of what a member has here: the next booking, the plates they own. */
export interface HomeLine {
  readonly name: string;
  readonly more: string;
  readonly href: string;
  readonly button: string;
}

/** What the page needs of the shop rules in force. */
export interface HomeRules {
  readonly makerspaceName: string;
  readonly timeZone: string;
  readonly version: number;
}

export interface HomeOptions extends House {
  readonly rulesInForce: () => Promise<HomeRules | undefined>;
  /** Rooms that have something to say to a member on the first page, in the order of the work. */
  readonly mine: readonly ((actor: Actor, rules: HomeRules) => Promise<readonly HomeLine[]>)[];
}

/** The first page: what the service is for, in the order of the work, and what a member has here. */
export const homePage: FastifyPluginAsync<HomeOptions> = async (pages, house) => {
  pages.get('/', { config: { open: true } }, async (request, reply) => {
    const rules = await house.rulesInForce();
    const { actor } = request;
    const lines =
      actor === undefined || rules === undefined
        ? []
        : (await Promise.all(house.mine.map((linesOf) => linesOf(actor, rules)))).flat();
    const joined = justDone(request, reply, house) === 'joined' ? [JUST_JOINED] : [];
    return sendSheet(
      request,
      reply,
      house,
      'home/home',
      {
        title: homeTitle(rules?.makerspaceName),
        ...(rules && { place: rules.makerspaceName }),
        notices: rules === undefined ? [notSetUpYet] : joined,
        titleBlock: rules === undefined ? [] : titleBlock(rules, house.now()),
      },
      {
        steps: HOME_STEPS.map((step, i) => ({ ...step, number: i + 1, primary: i === 0 })),
        mine: lines.map((line, i) => ({ ...line, number: i + 1 })),
        signedIn: actor !== undefined,
      },
    );
  });

  pages.get('/cautions', { config: { open: true } }, (request, reply) =>
    sendSheet(request, reply, house, 'home/cautions', { title: 'Cautions' }),
  );
};

function titleBlock(rules: HomeRules, now: Date) {
  return [
    { label: 'Sheet', value: 'Home' },
    { label: 'Makerspace', value: rules.makerspaceName },
    { label: 'Drawn', value: momentText(now, rules.timeZone) },
    { label: 'Shop rules', value: `version ${rules.version}` },
  ];
}
