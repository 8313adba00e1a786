import type { z } from 'zod';
import type { Progress } from '../domain/api/assessments.ts';
import type {
  ComparedSide,
  comparisonsPageSchema,
  comparisonsQuerySchema,
  newComparisonSchema,
  NewComparison,
  ShopComparison,
} from '../domain/api/comparisons.ts';
import { failure, success } from '../domain/index.ts';
import type { Outcome } from '../domain/index.ts';
import { comparePatches, SEVERAL_PHOTOS_PART } from '../measure/compare-patches.ts';
import { minutesPerSquareMetreOf } from '../domain/kinematics/area-rate.ts';
import { absent } from './absent.ts';
import { progressNow } from './keep-assessments.ts';
import type { Ledger } from './ledger.ts';
import { nowOf } from './moments.ts';
import type { Actor, Clock, TokenMaker } from './people-ports.ts';
import type { ProgressBoard } from './progress-board.ts';

export interface ComparisonPorts {
  readonly ledger: Pick<Ledger, 'comparisons' | 'assessments' | 'photos' | 'queue' | 'transact'>;
  readonly board: ProgressBoard;
  readonly tokens: Pick<TokenMaker, 'newId'>;
  readonly clock: Clock;
  readonly wake: () => void;
}

export interface Comparisons {
  list(query: z.output<typeof comparisonsQuerySchema>): Promise<z.output<typeof comparisonsPageSchema>>;
  read(id: string): Promise<Outcome<ShopComparison>>;
  progress(id: string): Promise<Outcome<Progress>>;
  add(body: z.output<typeof newComparisonSchema>, actor: Actor): Promise<Outcome<ShopComparison>>;
  remove(id: string): Promise<Outcome<null>>;
}

export function keepComparisons(ports: ComparisonPorts): Comparisons {
  const { ledger, clock, tokens } = ports;
  const read = async (id: string): Promise<Outcome<ShopComparison>> => {
    const stored = await ledger.comparisons.find(id);
    if (stored === null) return absent('comparison', id);
    return success({ ...stored, progress: await progressNow(stored, ports) });
  };
  return {
    read,
    list: (query) => ledger.comparisons.list(query),
    async progress(id) {
      const reading = await read(id);
      return reading.ok ? success(reading.value.progress) : reading;
    },
    async add({ id = tokens.newId(), title, of }, actor) {
      const sides = of.kind === 'assessments' ? await sidesOf(of.assessmentIds, ports) : await askedSides(of, ports);
      if (!sides.ok) return sides;
      const isDone = of.kind === 'assessments';
      const result = { sides: sides.value, pairs: isDone ? pairsOf(sides.value) : [], warnings: [] };
      const made = { id, createdAt: nowOf(clock), createdBy: actor.id };
      await ledger.transact(async (tables) => {
        const isNew = await tables.comparisons.add({
          ...made,
          ...result,
          title,
          of,
          state: isDone ? 'done' : 'queued',
        });
        if (isNew && !isDone) await tables.queue.enqueue('comparison', id, made.createdAt);
      });
      ports.wake();
      return read(id);
    },
    remove: (id) =>
      ledger.transact(async (tables) => {
        await tables.queue.remove(id);
        return (await tables.comparisons.remove(id)) ? success(null) : absent('comparison', id);
      }),
  };
}

async function sidesOf(ids: readonly string[], { ledger }: ComparisonPorts): Promise<Outcome<ComparedSide[]>> {
  if (new Set(ids).size !== ids.length) {
    return failure({ code: 'state-conflict', detail: 'an assessment is named twice; choose different ones' });
  }
  const sides: ComparedSide[] = [];
  for (const id of ids) {
    const assessment = await ledger.assessments.find(id);
    if (assessment === null) return absent('assessment', id);
    const { result, basis, photos, zoneName, jobName, roundNumber } = assessment;
    if (result === null) {
      return failure({
        code: 'state-conflict',
        detail: `the assessment of ${zoneName}, round ${roundNumber}, is not done`,
      });
    }
    const name = `${jobName}, ${zoneName}, round ${roundNumber}`;
    sides.push({
      name: sides.some((side) => side.name === name) ? `${name} (${sides.length + 1})` : name,
      assessmentId: id,
      photoId: photos.after,
      outline: basis.outlines.after,
      mmPerPixel: result.photos.after.card.mmPerPixel,
      settings: basis.settings,
      minutesPerSquareMetre: assessment.minutesPerSquareMetre,
      surface: result.after,
      streaks: result.streaks,
    });
  }
  return success(sides);
}

/** Photos of different rounds were taken in different light: nothing of their uncertainty cancels. */
const pairsOf = (sides: readonly ComparedSide[]): ShopComparison['pairs'] =>
  comparePatches(
    sides.flatMap(({ name, surface }) => (surface === null ? [] : [[name, { surface }] as const])),
    SEVERAL_PHOTOS_PART,
  );

async function askedSides(
  of: Extract<NewComparison['of'], { kind: 'patches' }>,
  { ledger }: ComparisonPorts,
): Promise<Outcome<ComparedSide[]>> {
  if ((await ledger.photos.find(of.photoId)) === null) return absent('photo', of.photoId);
  if (new Set(of.patches.map((patch) => patch.name)).size !== of.patches.length) {
    return failure({ code: 'state-conflict', detail: 'two patches have the same name; name them apart' });
  }
  return success(
    of.patches.map(({ name, outline, settings }) => ({
      name,
      assessmentId: null,
      photoId: of.photoId,
      outline,
      mmPerPixel: null,
      settings,
      minutesPerSquareMetre: settings === null ? null : minutesPerSquareMetreOf(settings),
      surface: null,
      streaks: null,
    })),
  );
}
