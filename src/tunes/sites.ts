/** Sites whose PDFs Holdfast may read, as the player sees them. */
import { FILES, grantedSites, mayReadFiles } from '../host/permissions.ts';

/** Files that are open in tabs: never handed over here, switched off in the browser, to be asked for, or granted. */
export type FilesState = 'never' | 'off' | 'asked' | 'granted';

export interface Grants {
  /** Permission patterns, files left out. */
  readonly sites: readonly string[];
  readonly files: FilesState;
}

/** What holds now, as the browser tells it. `handsOver`: this browser hands files over from tabs at all. */
export async function readGrants(handsOver: boolean): Promise<Grants> {
  const [origins, switchedOn] = await Promise.all([grantedSites(), mayReadFiles()]);
  const state = () => (origins.includes(FILES) ? 'granted' : switchedOn ? 'asked' : 'off');
  return { sites: origins.filter((each) => each !== FILES), files: handsOver ? state() : 'never' };
}

/** 'https://a.example/*' as "a.example"; what is not encrypted keeps its 'http://'. Null: it stands for every site. */
export function siteName(pattern: string): string | null {
  if (pattern === '<all_urls>' || /^[^:]+:\/\/\*\//.test(pattern)) return null;
  return pattern.replace(/^https:\/\//, '').replace(/\/\*$/, '');
}
