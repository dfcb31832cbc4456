/** The way from one file to another, as it is written in quotes. Knows addresses only, no disk. */

/** Scheme and host: what stands before the path. */
const place = /^[^:/]+:(?:\/\/[^/]*)?(?=\/)/;

/** Null where only an address leads there. */
export function pathFrom(from: string, to: string): string | null {
  const [scheme, other] = [place.exec(from)?.[0], place.exec(to)?.[0]];
  if (scheme === undefined || scheme !== other) return null;
  const [here, there] = [from.slice(scheme.length).split('/').slice(0, -1), to.slice(scheme.length).split('/')];
  let same = 0;
  while (same < here.length && same < there.length - 1 && here[same] === there[same]) same += 1;
  const path = [...here.slice(same).map(() => '..'), ...there.slice(same)];
  try {
    return path.map(decodeURIComponent).join('/');
  } catch {
    return null;
  }
}
