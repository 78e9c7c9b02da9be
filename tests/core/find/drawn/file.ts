/** PDF files of one page, put together by hand. */
import { degrees, PDFDocument, PDFName, type PDFRef } from 'pdf-lib';

export interface PageSpec {
  readonly width: number;
  readonly height: number;
  /** The page's operators. */
  readonly content: string;
  readonly rotate?: number;
  readonly crop?: readonly [x: number, y: number, width: number, height: number];
  readonly userUnit?: number;
  /** Entries of the page's resources; `add` puts a stream into the file. */
  readonly resources?: (add: AddStream) => Record<string, unknown>;
}

/** Adds a stream with these entries in its dictionary; gives its reference. */
export type AddStream = (data: string | Uint8Array, entries?: Record<string, unknown>) => PDFRef;

export async function pdfOf(...pages: readonly PageSpec[]): Promise<Uint8Array> {
  const file = await PDFDocument.create();
  const { context } = file;
  const add: AddStream = (data, entries = {}) => context.register(context.stream(data, entries as never));
  for (const { width, height, content, rotate, crop, userUnit, resources } of pages) {
    const page = file.addPage([width, height]);
    if (rotate !== undefined) page.setRotation(degrees(rotate));
    if (crop) page.setCropBox(...crop);
    if (userUnit !== undefined) page.node.set(PDFName.of('UserUnit'), context.obj(userUnit));
    page.node.set(PDFName.of('Contents'), add(content));
    page.node.set(PDFName.of('Resources'), context.obj((resources?.(add) ?? {}) as never));
  }
  return file.save();
}

/** A form XObject that draws `content`, with other forms as its resources. */
export const form = (
  add: AddStream,
  content: string,
  matrix: readonly number[] = [1, 0, 0, 1, 0, 0],
  resources: Record<string, unknown> = {},
) =>
  add(content, {
    Type: 'XObject',
    Subtype: 'Form',
    BBox: [-10000, -10000, 10000, 10000],
    Matrix: [...matrix],
    Resources: resources,
  });
