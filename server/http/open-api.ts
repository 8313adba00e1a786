import { OpenAPIRegistry, OpenApiGeneratorV31 } from '@asteasolutions/zod-to-openapi';
import type { RouteConfig } from '@asteasolutions/zod-to-openapi';
import { ENDPOINTS } from '../domain/api/endpoints.ts';
import type { EndpointName } from '../domain/api/endpoints.ts';
import type { Endpoint } from '../domain/api/endpoint.ts';
import { PROBLEM_MEDIA_TYPE, problemSchema } from '../domain/api/problem.ts';

type Document = ReturnType<OpenApiGeneratorV31['generateDocument']>;
type Responses = RouteConfig['responses'];

/** The endpoint table as an OpenAPI 3.1 document. Source: [OPENAPI31]. */
export function describeApi(programVersion: string): Document {
  const registry = new OpenAPIRegistry();
  registry.registerComponent('securitySchemes', 'session', {
    type: 'apiKey',
    in: 'cookie',
    name: '__Host-bareplate',
    description: 'Set by signing in. Without TLS the cookie is named "bareplate".',
  });
  for (const [name, endpoint] of Object.entries(ENDPOINTS) as [EndpointName, Endpoint][]) {
    registry.registerPath(routeOf(name, endpoint));
  }
  return new OpenApiGeneratorV31(registry.definitions).generateDocument({
    openapi: '3.1.0',
    info: {
      title: 'Bareplate',
      version: programVersion,
      description: 'Measures rust, scale and stain left on laser-cleaned steel, and advises the next setting.',
    },
    servers: [{ url: '/' }],
  });
}

/** `:name` in the table is `{name}` in the document. */
export const openApiPath = (path: string): string => path.replace(/:([A-Za-z]+)/g, '{$1}');

function routeOf(name: EndpointName, endpoint: Endpoint): RouteConfig {
  const { params, query, body } = endpoint;
  const isOpen = endpoint.access === 'anybody';
  return {
    method: endpoint.method,
    path: openApiPath(endpoint.path),
    operationId: name,
    summary: endpoint.summary,
    tags: [endpoint.path.split('/')[2]],
    ...(isOpen ? {} : { security: [{ session: [] }] }),
    ...(isOpen ? {} : { description: `Roles: ${endpoint.access.join(', ')}.` }),
    request: {
      ...(params === undefined ? {} : { params }),
      ...(query === undefined ? {} : { query }),
      ...(body === undefined ? {} : { body: { required: true, content: { 'application/json': { schema: body } } } }),
    },
    responses: { ...successOf(endpoint), ...PROBLEM },
  };
}

function successOf({ status, answer }: Endpoint): Responses {
  switch (answer.kind) {
    case 'json':
      return { [status]: { description: 'Done', content: { 'application/json': { schema: answer.schema } } } };
    case 'file': {
      const content = answer.mediaTypes.map((mediaType) => [mediaType, { schema: BYTES }] as const);
      return { [status]: { description: 'The file', content: Object.fromEntries(content) } };
    }
    case 'events':
      return {
        [status]: {
          description: 'Events; the data of each is JSON of the schema Progress',
          content: { 'text/event-stream': { schema: { type: 'string' } } },
        },
      };
    case 'empty':
      return { [status]: { description: 'Done' } };
  }
}

const BYTES = { type: 'string', contentMediaType: 'application/octet-stream' } as const;
const PROBLEM: Responses = {
  default: { description: 'What is wrong', content: { [PROBLEM_MEDIA_TYPE]: { schema: problemSchema } } },
};
