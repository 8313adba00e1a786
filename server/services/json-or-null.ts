/** What a kept text holds as JSON; null where it is none, as in a row that was damaged. */
export function jsonOrNull(text: string | null): unknown {
  try {
    return JSON.parse(text ?? 'null');
  } catch {
    return null;
  }
}
