import { accessSync, constants } from 'node:fs';
import { delimiter, join } from 'node:path';

const NAMES = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable', 'chrome.exe'];
const PLACES = [
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
];

export const HOW_TO_GET_CHROMIUM =
  'Install Chromium (Debian, Ubuntu: apt-get install chromium; Fedora: dnf install chromium; macOS: ' +
  'brew install --cask chromium), or set CHROMIUM to the program of one.';

/** The browser for the browser tests: what CHROMIUM names, else the first one found; undefined without any. */
export function findChromium() {
  const given = process.env.CHROMIUM;
  if (given) return isProgram(given) ? given : undefined;
  const folders = (process.env.PATH ?? '').split(delimiter).filter(Boolean);
  const candidates = [...folders.flatMap((folder) => NAMES.map((name) => join(folder, name))), ...PLACES];
  return candidates.find(isProgram);
}

function isProgram(path) {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}
