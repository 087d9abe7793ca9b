import { randomInt } from 'node:crypto';

/** Digits and capitals without those that are taken for others: no I, L, O, U. */
const LETTERS = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';

/** 24 of 32 letters: 120 bits, which nobody guesses. */
const LENGTH = 24;
const GROUP = 4;

export function newCardCode(): string {
  return Array.from({ length: LENGTH }, () => LETTERS[randomInt(LETTERS.length)]).join('');
}

/** `7K2M QX90 …`, as it is read out and typed. */
export function cardCodeText(code: string): string {
  return code.match(new RegExp(`.{1,${GROUP}}`, 'g'))?.join(' ') ?? code;
}

/** What somebody typed, as a code is kept: groups and hyphens do not matter, nor small letters, nor O for 0. */
export function typedCardCode(typed: string): string {
  return typed.toUpperCase().replace(/[\s-]/g, '').replaceAll('O', '0').replace(/[IL]/g, '1');
}
