// Emphasis of a text for those who have it.
/** Each gives its text back as it is to be shown; the plain style changes nothing. */
export interface Style {
  title(text: string): string;
  bad(text: string): string;
  warn(text: string): string;
  faint(text: string): string;
}
const same = (text: string): string => text;
export const plainStyle: Style = { title: same, bad: same, warn: same, faint: same };
