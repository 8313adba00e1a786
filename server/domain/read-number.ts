/**
 * A number as people type it, with a point or a comma.
 * @returns null for an empty text, undefined for a text that is no finite number
 */
export function readNumber(text: string): number | null | undefined {
  const trimmed = text.trim();
  if (trimmed === '') return null;
  if (!/^[-+]?\d*[.,]?\d+$|^[-+]?\d+[.,]$/.test(trimmed)) return undefined;
  const value = Number(trimmed.replace(',', '.'));
  return Number.isFinite(value) ? value : undefined;
}
