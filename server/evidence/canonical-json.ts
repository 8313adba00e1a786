/**
 * One spelling for one value: keys sorted by UTF-16 code units, no white space, numbers as ECMAScript prints them. Equal
 * values have equal bytes, so that a hash or a signature over them means something. Source: [RFC8785].
 *
 * @throws RangeError for what JSON cannot carry: NaN, infinities, undefined, functions, lone surrogates
 */
export function canonicalJson(value: unknown): string {
  return write(value, '$');
}

export const canonicalBytes = (value: unknown): Uint8Array => new TextEncoder().encode(canonicalJson(value));

function write(value: unknown, path: string): string {
  switch (typeof value) {
    case 'string':
      return writeString(value, path);
    case 'number':
      if (!Number.isFinite(value)) throw new RangeError(`Expected a finite number at ${path} but received ${value}`);
      return JSON.stringify(value);
    case 'boolean':
      return String(value);
    case 'object':
      return value === null ? 'null' : writeContainer(value, path);
    case 'undefined':
    case 'function':
    case 'symbol':
    case 'bigint':
      throw new RangeError(`Expected a JSON value at ${path} but received one of type ${typeof value}`);
  }
}

function writeContainer(value: object, path: string): string {
  if (Array.isArray(value)) return `[${value.map((item, index) => write(item, `${path}[${index}]`)).join(',')}]`;
  // An absent optional field and one set to undefined are the same thing.
  const fields = Object.entries(value).filter(([, field]) => field !== undefined);
  fields.sort(([a], [b]) => (a < b ? -1 : 1));
  return `{${fields.map(([key, field]) => `${writeString(key, path)}:${write(field, `${path}.${key}`)}`).join(',')}}`;
}

function writeString(text: string, path: string): string {
  if (/\p{Surrogate}/u.test(text)) {
    throw new RangeError(`Expected well-formed Unicode at ${path} but received a lone surrogate`);
  }
  return JSON.stringify(text);
}
