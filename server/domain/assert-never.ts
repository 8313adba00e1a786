/** Ends a switch over a union: a new member becomes a type error here instead of a silent gap. */
export function assertNever(value: never): never {
  throw new Error(`Unexpected member of a closed union: ${JSON.stringify(value)}`);
}
