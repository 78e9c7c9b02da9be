/** Bytes as text and back. Neither Node 20 nor the pure part has a coder of its own. */

/** The base 64 alphabet (RFC 4648, table 1). */
const SIGNS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/';

/** Six bits a sign, without the padding at the end. */
export function textOf(bytes: Uint8Array): string {
  let text = '';
  for (let i = 0; i < bytes.length; i += 3) {
    const three = (bytes[i]! << 16) | ((bytes[i + 1] ?? 0) << 8) | (bytes[i + 2] ?? 0);
    const signs = Math.min(4, bytes.length - i + 1);
    for (let k = 0; k < signs; k++) text += SIGNS[(three >> (18 - 6 * k)) & 63]!;
  }
  return text;
}

/** What `textOf` was given. */
export function bytesOf(text: string): Uint8Array<ArrayBuffer> {
  const bytes = new Uint8Array(Math.floor((text.length * 3) / 4));
  for (let i = 0, at = 0; i < text.length; i += 4, at += 3) {
    let four = 0;
    for (let k = i; k < i + 4; k++) four = (four << 6) | Math.max(0, SIGNS.indexOf(text[k] ?? 'A'));
    for (let k = 0; k < 3 && at + k < bytes.length; k++) bytes[at + k] = (four >> (16 - 8 * k)) & 255;
  }
  return bytes;
}
