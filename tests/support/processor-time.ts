/**
 * Least processor time of some calls, milliseconds: what a call takes on a quiet core, whatever else the machine is doing.
 * Counts the whole process, so it never flatters.
 */
export function leastProcessorMs(calls: number, call: () => unknown): number {
  const times = Array.from({ length: calls }, () => {
    const start = process.cpuUsage();
    call();
    const { user, system } = process.cpuUsage(start);
    return (user + system) / 1000;
  });
  return Math.min(...times);
}
