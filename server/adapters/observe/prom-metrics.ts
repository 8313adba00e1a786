import { collectDefaultMetrics, Counter, Gauge, Histogram, Registry } from 'prom-client';
import type { Metrics } from '../../services/observe-ports.ts';

/** Seconds: from a cached answer to a photo that is decoded. */
const REQUEST_BUCKETS_S = [0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5, 10];
const ANALYSIS_BUCKETS_S = [1, 2, 5, 10, 20, 40, 80, 160];

/** Numbers for Prometheus. Routes are named by endpoint, never by what a client typed. */
export function promMetrics(): Metrics {
  const registry = new Registry();
  collectDefaultMetrics({ register: registry });
  const requests = new Histogram({
    name: 'bareplate_request_seconds',
    help: 'Time to answer a request',
    labelNames: ['endpoint', 'status'],
    buckets: REQUEST_BUCKETS_S,
    registers: [registry],
  });
  const analyses = new Histogram({
    name: 'bareplate_analysis_seconds',
    help: 'Time of one analysis',
    labelNames: ['kind', 'outcome'],
    buckets: ANALYSIS_BUCKETS_S,
    registers: [registry],
  });
  const faults = new Counter({
    name: 'bareplate_faults_total',
    help: 'Faults that were answered',
    labelNames: ['code'],
    registers: [registry],
  });
  const queue = new Gauge({
    name: 'bareplate_queue_items',
    help: 'Analyses that wait or run',
    labelNames: ['state'],
    registers: [registry],
  });
  return {
    countRequest: (endpoint, status, seconds) => {
      requests.observe({ endpoint, status: String(status) }, seconds);
    },
    countAnalysis: (kind, outcome, seconds) => {
      analyses.observe({ kind, outcome }, seconds);
    },
    countFault: (code) => {
      faults.inc({ code });
    },
    setQueue: ({ waiting, running }) => {
      queue.set({ state: 'waiting' }, waiting);
      queue.set({ state: 'running' }, running);
    },
    text: () => registry.metrics(),
    mediaType: registry.contentType,
  };
}
