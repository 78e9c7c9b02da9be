import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';

const root = resolve(import.meta.dirname, '../..');
const read = (file: string) => readFileSync(resolve(root, file), 'utf8');
const manifest = JSON.parse(read('manifest.json')) as Record<string, any>;

describe('the manifest', () => {
  it('asks for nothing but the tab of a click, an entry in the menu of links and room, and for no site', () => {
    expect(manifest['permissions']).toEqual(['activeTab', 'contextMenus', 'unlimitedStorage']);
    expect(manifest['host_permissions']).toBeUndefined();
    expect(manifest['content_scripts']).toBeUndefined();
    expect(manifest['web_accessible_resources']).toBeUndefined();
    expect(manifest['optional_permissions']).toBeUndefined();
    expect(manifest['incognito']).toBe('not_allowed');
  });

  it('collects nothing, and says so', () => {
    expect(manifest['browser_specific_settings'].gecko.data_collection_permissions).toEqual({
      required: ['none'],
    });
  });

  it('has the version of the package', () => {
    expect(manifest['version']).toBe(JSON.parse(read('package.json')).version);
  });

  it.each(['src/stand/index.html', 'src/tunes/index.html'])('%s connects nowhere', (page) => {
    const policy = /http-equiv="Content-Security-Policy"\s+content="([^"]+)"/.exec(read(page))?.[1];
    expect(policy).toMatch(/connect-src 'self' blob:\s*(;|$)/);
  });
});
