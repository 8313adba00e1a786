import { describe, expect, it } from 'vitest';
import { isAt, PLACES } from '../../../../client/shell/places.ts';

describe('places', () => {
  it('are marked one at a time, the way to an answer as checking', () => {
    const at = (path: string): string[] => PLACES.filter((place) => isAt(place, path)).map(({ to }) => to);
    expect(at('/')).toEqual(['/']);
    expect(at('/zones/x')).toEqual(['/zones']);
    expect(at('/zones/x/check')).toEqual(['/']);
    expect(at('/rounds/x/photos')).toEqual(['/']);
    expect(at('/assessments/x')).toEqual(['/']);
    expect(at('/jobs/x/new-zone')).toEqual(['/jobs']);
  });
});
