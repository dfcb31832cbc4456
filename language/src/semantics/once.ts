/** Worked out when first asked for, and then kept. */
export function once<T>(make: () => T): () => T {
  let made: { readonly what: T } | null = null;
  return () => (made ??= { what: make() }).what;
}
