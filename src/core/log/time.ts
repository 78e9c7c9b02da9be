let day = '';
let dayMs = 0;

const two = (text: string, i: number) => (text.charCodeAt(i) - 48) * 10 + text.charCodeAt(i + 1) - 48;

/**
 * Milliseconds since 1970 of an event's time (ISO 8601, UTC). Date.parse, but five times as fast on
 * the form that the log is written in, for days that follow each other.
 */
export function msOf(at: string): number {
  if (at.length !== 24) return Date.parse(at);
  if (day === '' || !at.startsWith(day)) {
    day = at.slice(0, 10);
    dayMs = Date.parse(day);
  }
  const seconds = two(at, 11) * 3600 + two(at, 14) * 60 + two(at, 17);
  return dayMs + seconds * 1000 + (at.charCodeAt(20) - 48) * 100 + two(at, 21);
}
