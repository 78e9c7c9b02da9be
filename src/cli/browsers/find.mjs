/** Finds browsers and programs of the system: by the environment, by PATH, by where installers put them. */
import { accessSync, constants } from 'node:fs';
import { delimiter, join } from 'node:path';

const names = {
  chromium: ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable', 'chrome'],
  firefox: ['firefox', 'firefox-esr'],
};
const places = {
  darwin: {
    chromium: [
      '/Applications/Chromium.app/Contents/MacOS/Chromium',
      '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
    ],
    firefox: ['/Applications/Firefox.app/Contents/MacOS/firefox'],
  },
  win32: {
    chromium: ['Chromium\\Application\\chrome.exe', 'Google\\Chrome\\Application\\chrome.exe'],
    firefox: ['Mozilla Firefox\\firefox.exe'],
  },
};

function runs(path) {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

/** First of the programs that PATH has, as a full path; null when it has none. */
export function findProgram(programs) {
  const ends = process.platform === 'win32' ? ['.exe'] : [''];
  for (const program of programs)
    for (const folder of (process.env.PATH ?? '').split(delimiter))
      for (const end of ends)
        if (folder && runs(join(folder, program + end))) return join(folder, program + end);
  return null;
}

/**
 * Path of a browser: CHROMIUM or FIREFOX of the environment wins.
 * @param {'chromium' | 'firefox'} browser
 * @returns {string | null}
 */
export function findBrowser(browser) {
  const named = process.env[browser.toUpperCase()];
  if (named) return runs(named) ? named : null;
  const { ProgramFiles, LOCALAPPDATA } = process.env;
  const bases =
    process.platform === 'win32'
      ? [ProgramFiles, process.env['ProgramFiles(x86)'], LOCALAPPDATA].filter(Boolean)
      : [''];
  const usual = (places[process.platform]?.[browser] ?? []).flatMap((path) =>
    bases.map((base) => (base ? join(base, path) : path)),
  );
  return findProgram(names[browser]) ?? usual.find(runs) ?? null;
}
