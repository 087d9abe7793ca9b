import type { AuditAction } from '../../audit/actions.js';
import type { TrailEntry } from '../../audit/store.js';
import { nameOfCompetence } from './competences.js';
import { lostText } from './lost.js';
import { conditionName, sharingName } from './plates.js';
import { labelOfField } from './press.js';
import { OUTCOME_WORDS } from './runs.js';
import { RULE_WORDS } from './shop.js';
import { momentText, spanText } from './times.js';
import { nameOfStep } from './trial-steps.js';

interface Told extends Pick<TrailEntry, 'action' | 'details' | 'about'> {
  /** Whoever did it did it to themselves. */
  readonly oneself: boolean;
  readonly timeZone: string;
}

function detail({ details }: Told, name: string, otherwise = ''): string {
  const value = details[name];
  return value === undefined || value === null || value === '' ? otherwise : String(value);
}

/** `: word for word`, where there is such a detail. */
function after(told: Told, name: string, before = ': '): string {
  const value = detail(told, name);
  return value === '' ? '' : `${before}${value}`;
}

function before(text: string): string {
  return text === '' ? '' : `: ${text}`;
}

/** The same with a competence: by the title it had then, or one made of its name in entries of older releases. */
function afterCompetence(told: Told, before = ': '): string {
  const competence = detail(told, 'competence');
  const title = detail(told, 'title');
  if (title !== '') return `${before}${title}`;
  return competence === '' ? '' : `${before}${nameOfCompetence(competence)}`;
}

function moment(told: Told, name: string, before = ' '): string {
  const instant = new Date(detail(told, name));
  return Number.isNaN(instant.getTime()) ? '' : `${before}${momentText(instant, told.timeZone)}`;
}

function span(told: Told, before: string): string {
  const [startsAt, endsAt] = [new Date(detail(told, 'startsAt')), new Date(detail(told, 'endsAt'))];
  if (Number.isNaN(startsAt.getTime()) || Number.isNaN(endsAt.getTime())) return '';
  return `${before}${spanText(startsAt, endsAt, told.timeZone)}`;
}

function whom({ about }: Told): string {
  return about ?? 'a member';
}

/** `: opening hours, longest booking`, of the rules that were changed. */
function ruleLabels(told: Told): string {
  const labels = detail(told, 'changed')
    .split(', ')
    .filter((name) => Object.hasOwn(RULE_WORDS, name))
    .map((name) => RULE_WORDS[name as keyof typeof RULE_WORDS].label.toLowerCase());
  return labels.length === 0 ? '' : `: ${labels.join(', ')}`;
}

/** ` (holes, opening stroke)`, of the facts of press or bolster that were changed. */
function fieldLabels(told: Told): string {
  const labels = detail(told, 'changed')
    .split(', ')
    .flatMap((name) => labelOfField(name) ?? []);
  return labels.length === 0 ? '' : ` (${labels.join(', ')})`;
}

function stackPartText(told: Told): string {
  const kind = detail(told, 'kind') === 'facing' ? 'facing plate' : 'packer';
  return `${kind}${after(told, 'thicknessMm', ' of ')}${detail(told, 'thicknessMm') === '' ? '' : ' mm'}${after(told, 'name')}`;
}

/** Each goes on from a name: "Wren", or "The service itself". */
const ACTIONS = {
  'makerspace-founded': () => 'founded the makerspace',
  'signed-in': () => 'signed in',
  'signed-out': () => 'signed out',
  'signed-out-elsewhere': (told) => `ended ${detail(told, 'sessions', 'all')} other sessions of their own`,
  'members-imported': (told) => `invited ${detail(told, 'count', 'several')} people from a table`,
  'password-changed': () => 'changed their own password',
  'password-reset': () => 'set a new password by a link',
  'name-changed': () => 'changed their display name',
  'role-changed': (told) =>
    `changed the role of ${whom(told)}${after(told, 'from', ' from ')}${after(told, 'to', ' to ')}`,
  'reset-handed': (told) => `handed ${whom(told)} a link for a new password`,
  'member-invited': (told) => `invited ${told.about ?? 'somebody'}${after(told, 'role', ' as ')}`,
  'invitation-withdrawn': (told) => `withdrew an invitation${told.about === null ? '' : ` of ${told.about}`}`,
  'member-joined': (told) => `joined${after(told, 'role', ' as ')}`,
  'member-suspended': (told) => `suspended ${whom(told)}`,
  'suspension-ended': (told) => `ended the suspension of ${whom(told)}`,
  'member-signed-out': (told) => `ended all sessions of ${whom(told)}`,
  'member-left': (told) =>
    told.oneself ? 'left, and closed their own account' : `closed the account of ${whom(told)}`,
  'plate-submitted': () => 'submitted a plate',
  'plate-renamed': (told) => `renamed a plate${after(told, 'from', ' from ')}${after(told, 'to', ' to ')}`,
  'plate-shared': (told) =>
    `shared a plate anew: ${sharingName(detail(told, 'to'))}, before that ${sharingName(detail(told, 'from'))}`,
  'plate-placed': (told) =>
    `said how a plate is${afterCondition(detail(told, 'condition'))}${after(told, 'place', ', at ')}`,
  'plate-handed-over': (told) => `handed a plate over to ${whom(told)}`,
  'plate-retired': () => 'retired a plate',
  'plate-taken-up': () => 'took a retired plate up again',
  'photograph-kept': (told) => `added a photograph${after(told, 'revision', ' of revision ')}`,
  'photograph-removed': () => 'removed a photograph',
  'damage-reported': (told) =>
    `reported damage to ${detail(told, 'half') === '' ? 'a plate' : `the ${detail(told, 'half')} half of ${detail(told, 'name', 'a bolster')}`}`,
  'damage-closed': (told) => `said what was done about damage to ${detail(told, 'name', 'a plate')}`,
  'plate-revised': (told) => `submitted revision ${detail(told, 'revision', 'anew')} of a plate`,
  'plate-cleared': (told) => `cleared a plate${after(told, 'step', ' for ')}${after(told, 'polymers', ': ')}`,
  'plate-refused': (told) => `refused a plate${after(told, 'step', ' for ')}`,
  'plate-reworked': () => 'sent a plate back to be measured, because its metal was changed',
  'plate-clearance-void': (told) =>
    `took back a plate’s clearance${after(told, 'step', ' from ')}${detail(told, 'step') === '' ? '' : ' on'}`,
  'booking-made': (told) => `booked the press${after(told, 'polymer', ' in ')}`,
  'booking-moved': (told) => `moved a booking${span(told, ' to ')}`,
  'booking-cancelled': () => 'cancelled a booking',
  'run-opened': (told) =>
    `opened a ${detail(told, 'kind', 'run')}${detail(told, 'kind') === 'production' ? ' run' : ''}`,
  'trial-step-kept': (told) =>
    `kept a step of a trial${nameOfStep(detail(told, 'step')) === '' ? '' : `: ${nameOfStep(detail(told, 'step'))}`}`,
  'run-closed': (told) => {
    const outcome = OUTCOME_WORDS[detail(told, 'outcome') as keyof typeof OUTCOME_WORDS];
    return `closed a ${detail(told, 'kind') === 'trial' ? 'trial' : 'run'}${outcome === undefined ? '' : `: ${outcome.name.toLowerCase()}`}`;
  },
  'near-miss-reported': () => 'told of a near miss',
  'near-miss-answered': () => 'answered a near miss',
  'booking-needs-attention': (told) =>
    `marked a booking as needing attention${after(told, 'reason') || before(lostText(detail(told, 'lost')))}`,
  'booking-fit-again': () => 'found that a booking lacks nothing any more',
  'witness-asked': (told) => `asked for a witness${afterCompetence(told)}`,
  'signed-off': (told) =>
    `signed off ${told.about ?? 'a member'}${afterCompetence(told, ' for ')}${told.details.checklist === false ? ', without the checklist on record' : ''}`,
  'sign-off-revoked': (told) =>
    `revoked a sign-off of ${told.about ?? 'a member'}${afterCompetence(told, ' for ')}`,
  'founding-declaration': (told) =>
    `made the founding declaration, without a witness${afterCompetence(told, ', for ')}`,
  'stewarding-declared-anew': (told) =>
    `declared themselves a steward, without a witness${afterCompetence(told, ', for ')}: nobody’s sign-off for it stood`,
  'competence-added': (told) => `added a competence${afterCompetence(told)}`,
  'induction-written': (told) =>
    `wrote version ${detail(told, 'version', 'anew')} of an induction${afterCompetence(told)}`,
  'shop-rules-set': (told) =>
    `set version ${detail(told, 'version', 'anew')} of the shop rules${moment(told, 'validFrom', ', in force from ')}${ruleLabels(told)}`,
  'closure-made': (told) => `closed the workshop${span(told, ' on ')}${after(told, 'note')}`,
  'closure-lifted': (told) => `lifted a closure${span(told, ' of ')}${after(told, 'note')}`,
  'press-revised': (told) =>
    `made version ${detail(told, 'version', 'anew')} of the press${fieldLabels(told)}${after(told, 'why')}`,
  'bolster-added': (told) => `added a bolster, ${detail(told, 'name', 'unnamed')}${after(told, 'why')}`,
  'bolster-revised': (told) =>
    `made version ${detail(told, 'version', 'anew')} of ${detail(told, 'name', 'a bolster')}${fieldLabels(told)}${after(told, 'why')}`,
  'bolster-mounted': (told) => `mounted ${detail(told, 'name', 'another bolster')}${after(told, 'why')}`,
  'taken-out-of-service': (told) =>
    `took ${detail(told, 'what', 'something')} out of service${span(told, ', ')}${after(told, 'reason')}`,
  'put-back-in-service': (told) => `put ${detail(told, 'what', 'something')} back in service`,
  'inspection-recorded': (told) =>
    `recorded an inspection of the press${after(told, 'inspectedOn', ' on ')}${moment(told, 'dueAt', '; the next is overdue from ')}`,
  'stack-part-added': (told) => `added a ${stackPartText(told)}`,
  'stack-part-edited': (told) =>
    `edited what is written about ${detail(told, 'name', 'a part of the stack')}`,
  'stack-part-retired': (told) => `retired ${detail(told, 'name', 'a part of the stack')}`,
  'grade-added': (told) =>
    `added the resin grade ${detail(told, 'name', 'without a name')}${after(told, 'polymer')}`,
  'grade-revised': (told) =>
    `made version ${detail(told, 'version', 'anew')} of the resin grade ${detail(told, 'name', 'without a name')}${after(told, 'why')}`,
} satisfies { readonly [action in AuditAction]: (told: Told) => string };

/** What was done, going on from the name of who did it. One of an older release keeps its own word. */
export function wordAction(
  entry: Pick<TrailEntry, 'action' | 'details' | 'about'> &
    Partial<Pick<TrailEntry, 'actorId' | 'subjectId'>>,
  timeZone: string,
): string {
  const { action, details, about, actorId, subjectId } = entry;
  const oneself = actorId !== undefined && actorId === subjectId;
  const words = (ACTIONS as { readonly [action: string]: (told: Told) => string })[action];
  return words?.({ action, details, about, oneself, timeZone }) ?? action.replaceAll('-', ' ');
}

/** Who did it, where nobody did. */
export const THE_SERVICE = 'The service itself';

/** What a kind of thing is called in the list. */
export const SUBJECT_WORDS: { readonly [kind: string]: string } = {
  booking: 'booking',
  competence: 'competence',
  closure: 'closure',
  installation: 'makerspace',
  invitation: 'invitation',
  member: 'member',
  'near-miss': 'near miss',
  plate: 'plate',
  run: 'run',
  press: 'press',
  bolster: 'bolster',
  equipment: 'equipment',
  'stack-part': 'facing plate or packer',
  'resin-grade': 'resin grade',
  'shop-rules': 'shop rules',
  'sign-off': 'sign-off',
};

/** How much of the trail somebody sees. */
export const TRAIL_REACH = {
  own: 'What you did here',
  floor: 'What happened on the floor, and what you did',
  all: 'Everything that was done here',
} as const;

function afterCondition(condition: string): string {
  const name = conditionName(condition);
  return name === '' ? '' : `: ${name}`;
}
