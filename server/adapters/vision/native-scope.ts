interface Native {
  delete(): void;
}

let live = 0;

/** How many native objects are alive: a test sees it return to zero. */
export const liveNativeObjects = (): number => live;

/** Runs `work`, then frees every native object it registered, also when it throws: WASM memory has no garbage collector. */
export function withNativeScope<T>(work: (own: <N extends Native>(object: N) => N) => T): T {
  const owned: Native[] = [];
  try {
    return work((object) => {
      owned.push(object);
      live++;
      return object;
    });
  } finally {
    for (const object of owned.reverse()) {
      object.delete();
      live--;
    }
  }
}
