import { killServerRepeatedly } from '../support/kill-server.ts';

/** `node --import tsx tests/load/kill-thirty.ts [kills]`: kills a server during uploads and analyses and looks what is lost. */
const kills = Number(process.argv[2] ?? 30);
const report = await killServerRepeatedly(kills, 1907);
process.stdout.write(`${JSON.stringify(report, null, 2)}\n`);
process.exitCode = report.complaints.length === 0 ? 0 : 1;
