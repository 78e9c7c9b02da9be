/** A save: everything in one file, JSON or a zip that holds it as save.json with the PDFs beside it. */
import { strFromU8, strToU8, unzipSync } from 'fflate';
import * as v from 'valibot';
import type { LogEvent } from './events.ts';
import { mergeEvents, smaller } from './merge.ts';
import { saveMigrations } from './migrate.ts';
import { eventSchema } from './schema.ts';

/** Thrown for a file that is no save, or one that is damaged; the message is one line. */
export class BadSave extends Error {
  override readonly name = 'BadSave';
}

const strings = v.pipe(v.array(v.string()), v.readonly());
const length = v.pipe(v.number(), v.gtValue(0), v.finite());
const documentSchema = v.strictObject({
  hash: v.pipe(v.string(), v.regex(/^[0-9a-f]{64}$/, 'not a SHA-256 in hex')),
  bytes: v.pipe(v.number(), v.integer(), v.minValue(0)),
  names: strings,
  urls: strings,
  pages: v.pipe(v.array(v.strictObject({ width: length, height: length })), v.readonly()),
  kept: v.boolean(),
});
export type SavedDocument = v.InferOutput<typeof documentSchema>;

const saveSchema = v.strictObject({
  format: v.literal('holdfast-save'),
  version: v.literal(saveMigrations.now),
  events: v.array(eventSchema),
  documents: v.array(documentSchema),
  settings: v.record(v.string(), v.unknown()),
});

export interface Save {
  readonly format: 'holdfast-save';
  readonly version: 1;
  readonly events: readonly LogEvent[];
  readonly documents: readonly SavedDocument[];
  readonly settings: Readonly<Record<string, unknown>>;
}

const header = v.looseObject({ format: v.literal('holdfast-save'), version: v.number() });

/** A save from unknown JSON of any version. Throws BadSave. */
export function parseSave(value: unknown): Save {
  if (!v.is(header, value)) throw new BadSave('not a Holdfast save');
  let raised: unknown;
  try {
    raised = saveMigrations.up(value, value.version);
  } catch (error) {
    throw new BadSave(error instanceof Error ? error.message : 'of no known version');
  }
  const result = v.safeParse(saveSchema, raised, { abortEarly: true });
  if (result.success) return result.output;
  const [issue] = result.issues;
  throw new BadSave(`damaged at ${v.getDotPath(issue) ?? 'the top'}: ${issue.message}`);
}

const isZip = (bytes: Uint8Array) => bytes[0] === 0x50 && bytes[1] === 0x4b;

/** What a PDF is called inside a zipped save. */
export const pathOf = (hash: string): string => `files/${hash}.pdf`;

export interface SaveFile {
  readonly save: Save;
  /** Bytes of the PDFs by their path in the zip; not yet checked against their hash. */
  readonly files: ReadonlyMap<string, Uint8Array<ArrayBuffer>>;
}

/** A save from the bytes of a .json or .zip file, with the PDFs if wanted. Throws BadSave. */
export function readSave(bytes: Uint8Array, pdfs = false): SaveFile {
  const files = new Map<string, Uint8Array<ArrayBuffer>>();
  let json = bytes;
  if (isZip(bytes)) {
    const inside = unzip(bytes, pdfs);
    const saved = inside['save.json'];
    if (!saved) throw new BadSave('a zip without save.json');
    json = saved;
    for (const [path, held] of Object.entries(inside)) if (path !== 'save.json') files.set(path, held);
  }
  let value: unknown;
  try {
    value = JSON.parse(strFromU8(json));
  } catch {
    throw new BadSave('not a Holdfast save');
  }
  return { save: parseSave(value), files };
}

function unzip(bytes: Uint8Array, pdfs: boolean): Record<string, Uint8Array<ArrayBuffer>> {
  try {
    return unzipSync(bytes, {
      filter: ({ name }) => name === 'save.json' || (pdfs && name.startsWith('files/')),
    });
  } catch {
    throw new BadSave('a damaged zip');
  }
}

const union = (a: readonly string[], b: readonly string[]) => [...new Set([...a, ...b])].sort();

/** One document known twice: all its labels; the rest is the same for the same bytes. */
export function mergeDocuments(a: SavedDocument, b: SavedDocument): SavedDocument {
  const pages =
    a.pages.length === b.pages.length
      ? smaller(a.pages, b.pages)
      : a.pages.length > b.pages.length
        ? a.pages
        : b.pages;
  return {
    hash: a.hash,
    bytes: Math.max(a.bytes, b.bytes),
    names: union(a.names, b.names),
    urls: union(a.urls, b.urls),
    pages,
    kept: a.kept || b.kept,
  };
}

/** The union of saves: the same in any order and any number of times. */
export function mergeSaves(saves: readonly Save[]): Save {
  const documents = new Map<string, SavedDocument>();
  const settings = new Map<string, unknown>();
  for (const save of saves) {
    for (const each of save.documents) {
      documents.set(each.hash, mergeDocuments(documents.get(each.hash) ?? each, each));
    }
    for (const [key, value] of Object.entries(save.settings))
      settings.set(key, settings.has(key) ? smaller(settings.get(key), value) : value);
  }
  const sorted = <T>(map: Map<string, T>) => [...map].sort(([a], [b]) => (a < b ? -1 : 1));
  return newSave(
    mergeEvents(...saves.map((save) => save.events)),
    sorted(documents).map(([, each]) => each),
    Object.fromEntries(sorted(settings)),
  );
}

export function newSave(
  events: Save['events'],
  documents: Save['documents'],
  settings: Save['settings'],
): Save {
  return { format: 'holdfast-save', version: 1, events, documents, settings };
}

/** The bytes of a save's JSON. */
export const saveBytes = (save: Save): Uint8Array<ArrayBuffer> => strToU8(JSON.stringify(save));

/** Events by chart, charts in the order of their keys. */
export function byChart(events: readonly LogEvent[]): Map<string, LogEvent[]> {
  const charts = new Map<string, LogEvent[]>();
  for (const event of events) {
    const held = charts.get(event.chart);
    if (held) held.push(event);
    else charts.set(event.chart, [event]);
  }
  return new Map([...charts].sort(([a], [b]) => (a < b ? -1 : 1)));
}
