import { describe, expect, it } from 'vitest';
import { mayCall } from '../../../../client/session/who.ts';
import { ENDPOINTS } from '../../../../server/domain/api/endpoints.ts';
import type { EndpointName } from '../../../../server/domain/api/endpoints.ts';
import { ROLES } from '../../../../server/domain/api/roles.ts';

describe('mayCall', () => {
  it('offers each role exactly what the endpoint table allows', () => {
    for (const name of Object.keys(ENDPOINTS) as EndpointName[]) {
      const access: 'anybody' | readonly string[] = ENDPOINTS[name].access;
      for (const role of ROLES) expect(mayCall({ role }, name)).toBe(access === 'anybody' || access.includes(role));
      expect(mayCall(null, name)).toBe(access === 'anybody');
    }
  });
});
