import { candidateReader } from './band-candidate.ts';
import type { BandCandidate, BandSearch } from './band-candidate.ts';
import type { ProfileLine } from './find-lines.ts';
import { followLine } from './follow-line.ts';
import type { Channel } from './common-variance.ts';
import { REACHES } from './stripe-directions.ts';
import { extentOf } from './strip-profiles.ts';
import { throughEvidence, witnessLine } from './through-evidence.ts';
import type { LineWitness } from './through-evidence.ts';
import { bestLine, lineStrips, throughLines, throughScore } from './through-lines.ts';
import type { LineStrips, ThroughLine } from './through-lines.ts';

/** A line that runs through the zone, with what else lies in its direction. */
export interface ThroughCandidate {
  readonly candidate: BandCandidate;
  readonly search: BandSearch;
  readonly evidence: number;
}

const DIRECTIONS_TRIED = 3;
/** Following a line must not lose more of it than this. */
const LEAST_KEPT = 0.97;
const FOLLOWING_ROUNDS = 3;
/** Chosen where none of 141 unstreaked zones passes that no fit had seen. */
const LEAST_EVIDENCE = 0.9;

/** Lines that show in strip after strip, with enough evidence, the surest first. */
export function throughCandidates(searches: readonly BandSearch[]): ThroughCandidate[] {
  const found = searches.flatMap((search) => {
    const extent = extentOf(search.coarse);
    const strips = lineStrips(search.fine, extent);
    const candidateIn = candidateReader(search, extent);
    return throughLines(strips, DIRECTIONS_TRIED).flatMap((first) => {
      const line = followed(strips, first);
      const witness = witnessLine(strips, line);
      const evidence = throughEvidence(line, witness);
      if (!(evidence > LEAST_EVIDENCE)) return [];
      return [{ candidate: candidateIn(directionOf(line), [known(line, witness, strips)]), search, evidence }];
    });
  });
  return found.sort((p, q) => q.evidence - p.evidence);
}

/** The line in a frame that follows it, as long as that shows it as well. */
function followed(strips: LineStrips, first: ThroughLine): ThroughLine {
  let line = first;
  for (let round = 0; round < FOLLOWING_ROUNDS; round++) {
    const next = bestLine(strips, followLine(strips, line));
    if (next === null || throughScore(next) < LEAST_KEPT * throughScore(first)) return line;
    line = next;
  }
  return line;
}

function directionOf(line: ThroughLine): BandCandidate['direction'] {
  const channel: Channel = line.look === 'darker' ? 'lightness' : 'chroma';
  const reachMm = REACHES.find(({ mm }) => 2 * mm >= line.widthMm)?.mm ?? REACHES[REACHES.length - 1].mm;
  return { frame: line.frame, channel, reachMm, standout: 0 };
}

function known(line: ThroughLine, { depth }: LineWitness, strips: LineStrips): ProfileLine {
  return {
    centreMm: line.placeMm,
    widthMm: line.widthMm,
    depth,
    presence: 1,
    lengthMm: line.strips * strips.project(line.frame).stripMm,
    steadiness: throughScore(line),
  };
}
