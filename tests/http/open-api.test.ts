import { describe, expect, it } from 'vitest';
import { ENDPOINTS } from '../../server/domain/api/endpoints.ts';
import { openApiPath } from '../../server/http/open-api.ts';
import { apiDocument, misfitOf } from '../support/open-api-check.ts';

/** Rules of the OpenAPI 3.1.0 specification that a generated document can break. Source: [OPENAPI31]. */
describe('the published document', () => {
  const operations = Object.entries(apiDocument.paths ?? {}).flatMap(([path, item]) =>
    Object.entries(item as Record<string, Operation>).map(([method, operation]) => ({ path, method, operation })),
  );

  it('describes each endpoint once, and nothing else', () => {
    const described = operations.map(({ path, method }) => `${method} ${path}`).sort();
    const mounted = Object.values(ENDPOINTS).map(({ path, method }) => `${method} ${openApiPath(path)}`);
    expect(described).toEqual([...new Set(mounted)].sort());
    expect(mounted).toHaveLength(new Set(mounted).size);
  });

  it('gives each operation a name of its own', () => {
    const names = operations.map(({ operation }) => operation.operationId);
    expect(new Set(names).size).toBe(names.length);
    expect(names.sort()).toEqual(Object.keys(ENDPOINTS).sort());
  });

  it('declares every parameter of a path as required, and no other path parameter', () => {
    for (const { path, operation } of operations) {
      const inPath = [...path.matchAll(/\{(\w+)\}/g)].map(([, name]) => name).sort();
      const declared = (operation.parameters ?? []).filter((parameter) => parameter.in === 'path');
      expect(declared.map((parameter) => parameter.name).sort(), path).toEqual(inPath);
      expect(
        declared.every((parameter) => parameter.required === true),
        path,
      ).toBe(true);
    }
  });

  it('names only components that are there', () => {
    const text = JSON.stringify(apiDocument);
    const components = apiDocument.components?.schemas ?? {};
    const references = [...text.matchAll(/"\$ref":"([^"]+)"/g)].map(([, reference]) => reference);
    expect(references.length).toBeGreaterThan(50);
    for (const reference of references) {
      const [, name] = /^#\/components\/schemas\/(\w+)$/.exec(reference) ?? [];
      expect(Object.keys(components), reference).toContain(name);
    }
  });

  it('does not speak the dialect of 3.0, and says of each answer what it means', () => {
    expect(JSON.stringify(apiDocument)).not.toContain('"nullable"');
    for (const { path, operation } of operations) {
      const responses = Object.entries(operation.responses);
      expect(responses.length, path).toBeGreaterThan(1);
      for (const [status, response] of responses) {
        expect(status).toMatch(/^[2]\d\d$|^default$/);
        expect(response.description.length).toBeGreaterThan(0);
      }
    }
  });

  it('asks for a session wherever the table does', () => {
    for (const { operation } of operations) {
      const { access } = ENDPOINTS[operation.operationId as keyof typeof ENDPOINTS];
      expect(operation.security !== undefined).toBe(access !== 'anybody');
    }
  });
});

describe('the check of answers', () => {
  const answer = (body: unknown): Parameters<typeof misfitOf>[1] => ({
    status: 200,
    mediaType: 'application/json',
    body,
  });

  it('finds a missing field, a wrong type and an undescribed kind of answer', () => {
    const right = { person: null, needsSetup: true, programVersion: '1' };
    expect(misfitOf('readWho', answer(right))).toBeNull();
    expect(misfitOf('readWho', answer({ ...right, needsSetup: undefined }))).not.toBeNull();
    expect(misfitOf('readWho', answer({ ...right, needsSetup: 'yes' }))).not.toBeNull();
    expect(misfitOf('readWho', answer({ ...right, person: { id: 'x' } }))).not.toBeNull();
    expect(misfitOf('readWho', { ...answer(right), mediaType: 'text/html' })).not.toBeNull();
  });
});

interface Operation {
  readonly operationId: string;
  readonly security?: unknown;
  readonly parameters?: readonly { in: string; name: string; required?: boolean }[];
  readonly responses: Readonly<Record<string, { description: string }>>;
}
