/** NIST SP 800-63B-4: at least 15 characters where a password is the only factor; counted as code points. */
export const PASSWORD_LENGTH_MIN = 15;

export type PasswordFault = 'too-short' | 'repeats' | 'runs' | 'common-words' | 'about-you';

/** The same, and what only somebody who has one already can do. */
export type NewPasswordFault = PasswordFault | 'no-change';

/** Words that passwords this long are commonly strung together from. Our own list, longest first where one holds another. */
const COMMON_WORDS = [
  'correcthorsebatterystaple',
  'administrator',
  'makerspace',
  'platenshare',
  'injection',
  'password',
  'passwort',
  'sunshine',
  'princess',
  'football',
  'baseball',
  'superman',
  'computer',
  'internet',
  'trustnoone',
  'iloveyou',
  'letmein',
  'welcome',
  'changeme',
  'default',
  'monkey',
  'dragon',
  'master',
  'shadow',
  'secret',
  'qwerty',
  'qwertz',
  'azerty',
  'abc',
  'asdf',
  'zxcv',
  'login',
  'admin',
  'guest',
  'hello',
  'mould',
  'press',
  'plate',
  'test',
  'user',
  'pass',
  'love',
  'root',
  'the',
  'my',
  'is',
  'a',
  'i',
];

/** What people put for letters. */
const STANDS_FOR: Readonly<Record<string, string>> = {
  '0': 'o',
  '1': 'i',
  '3': 'e',
  '4': 'a',
  '5': 's',
  '7': 't',
  '@': 'a',
  $: 's',
  '!': 'i',
};

const KEYBOARD_ROWS = ['qwertyuiop', 'asdfghjkl', 'zxcvbnm', 'qwertzuiop', 'azertyuiop', '1234567890'];

/** Letters that may be left once everything common has been taken out, for a password still to be common. */
const LETTERS_LEFT_MAX = 3;

/**
 * What is wrong with a new password, or `undefined`. No rules of composition; only what guessers try first.
 *
 * @param context words that belong to the member or the makerspace, such as name, address, place
 */
export function passwordFault(password: string, context: readonly string[]): PasswordFault | undefined {
  if ([...password].length < PASSWORD_LENGTH_MIN) return 'too-short';
  const lower = password.toLowerCase();
  if (isRepetition(lower)) return 'repeats';
  if (isMostlyRuns(lower)) return 'runs';
  const letters = lettersOf(lower);
  if (lettersLeft(letters, COMMON_WORDS) <= LETTERS_LEFT_MAX) return 'common-words';
  const own = context.flatMap((words) =>
    words
      .toLowerCase()
      .split(/[^\p{L}\p{N}]+/u)
      .map(lettersOf),
  );
  const longEnough = own.filter((word) => word.length >= 3).sort((a, b) => b.length - a.length);
  return lettersLeft(letters, [...longEnough, ...COMMON_WORDS]) <= LETTERS_LEFT_MAX ? 'about-you' : undefined;
}

/** A short piece over and over, or very few different characters. */
function isRepetition(text: string): boolean {
  if (new Set(text).size < 5) return true;
  for (let period = 1; period <= text.length / 2; period++) {
    if (period <= 8 && [...text].every((character, i) => character === text[i % period])) return true;
  }
  return false;
}

/** Up or down the alphabet, the digits or a row of keys, for nearly all of its length. */
function isMostlyRuns(text: string): boolean {
  let steps = 0;
  for (let i = 1; i < text.length; i++) if (isNeighbour(text[i - 1] ?? '', text[i] ?? '')) steps += 1;
  return steps >= (text.length - 1) * 0.75;
}

function isNeighbour(first: string, second: string): boolean {
  if (Math.abs(first.charCodeAt(0) - second.charCodeAt(0)) <= 1) return true;
  return KEYBOARD_ROWS.some((row) => {
    const [from, to] = [row.indexOf(first), row.indexOf(second)];
    return from >= 0 && to >= 0 && Math.abs(from - to) === 1;
  });
}

function lettersOf(text: string): string {
  return [...text]
    .map((character) => STANDS_FOR[character] ?? character)
    .filter((character) => /\p{L}/u.test(character))
    .join('');
}

function lettersLeft(letters: string, words: readonly string[]): number {
  return words
    .reduce((left, word) => (word === '' ? left : left.replaceAll(word, ' ')), letters)
    .replaceAll(' ', '').length;
}
