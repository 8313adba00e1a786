import { describe, expect, it } from 'vitest';
import { liveNativeObjects, withNativeScope } from '../../../../server/adapters/vision/native-scope.ts';

function countedObjects(): { make: (name: string) => { delete(): void }; freed: string[] } {
  const freed: string[] = [];
  return { freed, make: (name) => ({ delete: () => freed.push(name) }) };
}

describe('a scope of native objects', () => {
  it('counts what is alive inside and frees it in reverse at the end', () => {
    const { make, freed } = countedObjects();
    const inside = withNativeScope((own) => {
      own(make('first'));
      own(make('second'));
      return liveNativeObjects();
    });
    expect(inside).toBe(2);
    expect(freed).toEqual(['second', 'first']);
    expect(liveNativeObjects()).toBe(0);
  });

  it('frees everything when the work throws, and hands the error on', () => {
    const { make, freed } = countedObjects();
    const work = (): never =>
      withNativeScope((own) => {
        own(make('first'));
        throw new Error('broke');
      });
    expect(work).toThrow('broke');
    expect(freed).toEqual(['first']);
    expect(liveNativeObjects()).toBe(0);
  });

  it('nests: the inner scope frees only its own', () => {
    const { make, freed } = countedObjects();
    withNativeScope((own) => {
      own(make('outer'));
      withNativeScope((ownInner) => ownInner(make('inner')));
      expect(freed).toEqual(['inner']);
      expect(liveNativeObjects()).toBe(1);
    });
    expect(liveNativeObjects()).toBe(0);
  });
});
