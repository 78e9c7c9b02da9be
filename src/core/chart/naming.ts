/** Whether these first bytes are a PDF's: readers look for the header in the first 1,024 (ISO 32000-1, Annex H). */
export function isPdf(start: Uint8Array): boolean {
  const mark = [0x25, 0x50, 0x44, 0x46, 0x2d];
  const last = Math.min(start.length, 1024) - mark.length;
  for (let at = 0; at <= last; at++) if (mark.every((byte, i) => start[at + i] === byte)) return true;
  return false;
}

function decoded(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
}

/** The name in a Content-Disposition header (RFC 6266: the extended form first). */
function sentName(disposition: string): string | null {
  const extended = /filename\*\s*=\s*[\w-]+'[^']*'([^;]+)/i.exec(disposition)?.[1];
  if (extended) return decoded(extended.trim());
  const plain = /filename\s*=\s*(?:"((?:[^"\\]|\\.)*)"|([^;\s]+))/i.exec(disposition);
  return plain?.[1]?.replace(/\\(.)/g, '$1') ?? plain?.[2] ?? null;
}

/** What to call the file behind an address: the name the site sends, else the last part of the path, else the host. */
export function fileNameOf(address: string, disposition: string | null): string {
  const sent = disposition === null ? null : sentName(disposition);
  if (sent) return sent;
  const url = new URL(address);
  return decoded(url.pathname.split('/').findLast((part) => part !== '') ?? url.host);
}

/** The page, from 1, that an address asks a viewer of PDFs to show (RFC 8118, §3: `#page=3`); null: it asks for none. */
export function pageAsked(address: string): number | null {
  const page = URL.canParse(address) ? new URLSearchParams(new URL(address).hash.slice(1)).get('page') : null;
  return page !== null && /^[1-9]\d{0,5}$/.test(page) ? Number(page) : null;
}

/** A chart's first name, from its file's: without the ending, underscores as spaces. */
export function chartName(file: string): string {
  const name = file
    .replace(/\.pdf$/i, '')
    .replace(/_+/g, ' ')
    .trim();
  return name || file;
}

/** Whether an address could show a PDF at all: folders and plain web pages do not. */
export function mayBePdf(address: string): boolean {
  if (/pdf/i.test(address)) return true;
  return !/(\/|\.(html?|xhtml|php|aspx?|jsp))$/i.test(new URL(address).pathname);
}
