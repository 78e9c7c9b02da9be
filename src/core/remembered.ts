/** The same function, asked once for each key: for what is looked up often and does not change. */
export function remembered<Key, Value>(of: (key: Key) => Value): (key: Key) => Value {
  const known = new Map<Key, Value>();
  return (key) => {
    if (!known.has(key)) known.set(key, of(key));
    return known.get(key)!;
  };
}
