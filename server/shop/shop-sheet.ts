import type { FieldErrors } from '../http/form.js';
import { worseLines } from '../words/en/reassessments.js';
import {
  aboveQuotaText,
  bookingsAffected,
  CLOSED,
  DAY_WORDS,
  NO_LIMIT,
  NOT_LOOKED_AT,
  platesAffected,
  RULE_WORDS,
} from '../words/en/shop.js';
import { momentText, spanText } from '../words/en/times.js';
import { wordReason } from '../words/index.js';
import type { Closure } from './closure-store.js';
import type { Foreseen } from './foreseen.js';
import type { LookedAhead } from './look-ahead.js';
import { RULE_NAMES, type ShopRules, WEEKDAYS } from './rules.js';
import type { RulesVersion } from './store.js';
import { writtenHours } from './written-hours.js';

/** One rule in words, with its unit. */
function ruleText(rules: ShopRules, name: keyof ShopRules): string {
  if (name === 'openingHours')
    return WEEKDAYS.map((day) => `${DAY_WORDS[day]} ${hoursText(rules, day)}`).join('; ');
  const value = rules[name];
  if (value === null) return NO_LIMIT;
  const { unit } = RULE_WORDS[name];
  return unit === undefined ? String(value) : `${value} ${unit}`;
}

function hoursText(rules: ShopRules, day: (typeof WEEKDAYS)[number]): string {
  return writtenHours(rules.openingHours[day]).replaceAll('-', ' to ') || CLOSED;
}

/** Every rule as a fact, opening hours apart. */
export function ruleFacts(rules: ShopRules) {
  return RULE_NAMES.filter((name) => name !== 'openingHours').map((name) => ({
    label: RULE_WORDS[name].label,
    value: ruleText(rules, name),
  }));
}

/** The week's opening hours as facts. */
export function hourFacts(rules: ShopRules) {
  return WEEKDAYS.map((day) => ({ label: DAY_WORDS[day], value: hoursText(rules, day) }));
}

/** What differs between two versions, before and after. */
function changeRows(before: ShopRules, after: ShopRules, names: readonly (keyof ShopRules)[]) {
  return names.flatMap((name) =>
    name === 'openingHours'
      ? hourChanges(before, after)
      : [changeRow(RULE_WORDS[name].label, before, after, name)],
  );
}

function changeRow(label: string, before: ShopRules, after: ShopRules, name: keyof ShopRules) {
  return { label, before: ruleText(before, name), after: ruleText(after, name) };
}

function hourChanges(before: ShopRules, after: ShopRules) {
  return WEEKDAYS.map((day) => ({
    label: DAY_WORDS[day],
    before: hoursText(before, day),
    after: hoursText(after, day),
  })).filter((row) => row.before !== row.after);
}

/** A version still to come, with what it changes against the one before it. */
export function comingVersions([inForce, ...coming]: readonly RulesVersion[], timeZone: string) {
  let before = inForce;
  return coming.map((version) => {
    const changed = RULE_NAMES.filter(
      (name) => JSON.stringify(before?.rules[name]) !== JSON.stringify(version.rules[name]),
    );
    const rows = before === undefined ? [] : changeRows(before.rules, version.rules, changed);
    before = version;
    return { name: `Version ${version.version}, from ${momentText(version.validFrom, timeZone)}`, rows };
  });
}

export function closureRows(closures: readonly Closure[], timeZone: string) {
  return closures.map(({ id, startsAt, endsAt, note, madeBy }) => ({
    id,
    when: spanText(startsAt, endsAt, timeZone),
    note,
    madeBy,
  }));
}

/** What a change does, for the page that asks to confirm it. */
export function foreseenView({ proposal, foreseen, aboveQuota }: LookedAhead, timeZone: string) {
  return {
    changes: changeRows(proposal.instead, proposal.rules, proposal.changed),
    from: momentText(proposal.validFrom, timeZone),
    ...(proposal.validUntil !== null && { until: momentText(proposal.validUntil, timeZone) }),
    ...affectedView(foreseen, timeZone),
    aboveQuota: aboveQuota.map((above) => ({ name: above.displayName, why: aboveQuotaText(above) })),
  };
}

/** Bookings that no longer fit and plates that get another verdict, for the partial `foreseen`. */
export function affectedView(foreseen: Foreseen, timeZone: string) {
  return {
    bookingsHeading: bookingsAffected(foreseen.bookings.length),
    bookings: foreseen.bookings.map(({ bookingId, displayName, reasons, ...span }) => ({
      href: `/bookings/${bookingId}`,
      when: spanText(span.startsAt, span.endsAt, timeZone),
      who: displayName,
      why: reasons.map((reason) => wordReason(reason).message).join(' '),
    })),
    platesHeading: platesAffected(foreseen.plates.length),
    plates: foreseen.plates.map(({ plateName, displayName, revision, polymer, before, after, worse }) => ({
      name: `${plateName}, revision ${revision}, in ${polymer} (${displayName})`,
      before,
      after: after ?? 'unknown',
      note: after === null ? NOT_LOOKED_AT : worseLines(worse).join(' '),
    })),
  };
}

/** A cell of the rules' form. */
function cell(
  name: string,
  words: { label: string; unit?: string; hint?: string },
  given: FieldErrors,
  errors: FieldErrors,
) {
  return { name, ...words, value: given[name] ?? '', error: errors[name] };
}

/** The cells of the rules' form, with what was given and what is wrong with it. */
export function ruleCells(given: FieldErrors, errors: FieldErrors) {
  const wide = new Set<keyof ShopRules>(['makerspaceName', 'timeZone']);
  const named = RULE_NAMES.filter((name) => wide.has(name));
  const figures = RULE_NAMES.filter((name) => !wide.has(name) && name !== 'openingHours');
  return {
    house: named.map((name) => ({ ...cell(name, RULE_WORDS[name], given, errors), size: 'wide' })),
    week: WEEKDAYS.map((day) => cell(day, { label: DAY_WORDS[day] }, given, errors)),
    limits: figures.map((name) => ({ ...cell(name, RULE_WORDS[name], given, errors), inputMode: 'decimal' })),
  };
}
