export const LOG_LEVELS = ['debug', 'info', 'warn', 'error', 'silent'] as const;
export type LogLevel = (typeof LOG_LEVELS)[number];

type Values = Readonly<Record<string, string | number | boolean | null>>;

/** The log for whoever runs the server. */
export interface Log {
  info(message: string, values?: Values): void;
  warn(message: string, values?: Values): void;
  error(message: string, error: unknown, values?: Values): void;
}

/** Numbers for whoever watches the server. */
export interface Metrics {
  countRequest(endpoint: string, status: number, seconds: number): void;
  countAnalysis(kind: string, outcome: 'done' | 'refused' | 'broke down', seconds: number): void;
  countFault(code: string): void;
  setQueue(counts: { waiting: number; running: number }): void;
  text(): Promise<string>;
  readonly mediaType: string;
}
