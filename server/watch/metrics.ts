import type { Outcome } from '../reading/read-job.ts';
import type { Figures } from '../reading/readings.ts';

/** What an operator's Prometheus asks for. Nothing in it tells of a person or a photo. */
export interface Metrics {
  readonly contentType: string;
  readonly text: () => Promise<string>;
  /** A question to the database took so long, s. */
  readonly asked: (seconds: number) => void;
  /** A photo was read, or could not be. */
  readonly read: (outcome: Outcome, waitedSeconds?: number) => void;
  /** A job brought its worker down. */
  readonly lost: (what: 'again' | 'aside') => void;
}

/** s; a reading takes one or two of a core each. */
const READING_BUCKETS = [0.25, 0.5, 1, 1.5, 2, 3, 5, 10, 30, 120];
const WAITING_BUCKETS = [0.5, 1, 2, 5, 10, 30, 60, 300, 1800, 7200];
const DATABASE_BUCKETS = [0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 5];

/** @param figures how things stand with all readings; rejects while the database is away */
export async function createMetrics(figures: () => Promise<Figures>): Promise<Metrics> {
  const { collectDefaultMetrics, Counter, Gauge, Histogram, Registry } =
    await import('prom-client');
  const register = new Registry();
  const registers = [register];
  collectDefaultMetrics({ register });
  const gauge = (name: string, help: string) => new Gauge({ name, help, registers });
  const up = gauge('endwise_database_up', 'whether the database answers, or none is needed');
  const gauges = {
    waiting: gauge('endwise_readings_waiting', 'photos that wait to be read'),
    reading: gauge('endwise_readings_running', 'photos that are being read'),
    setAside: gauge('endwise_readings_set_aside', 'photos that brought their workers down'),
    kept: gauge('endwise_readings_kept', 'results that wait to be fetched, or to go'),
    oldestSeconds: gauge('endwise_oldest_waiting_seconds', 'of the photo that waits longest'),
  } satisfies Record<keyof Figures, unknown>;
  const readings = new Counter({
    name: 'endwise_readings_total',
    help: 'readings by this process: "read", or why there is none',
    labelNames: ['code'],
    registers,
  });
  const lost = new Counter({
    name: 'endwise_worker_deaths_total',
    help: 'jobs that brought down who read them: put into the queue again, or set aside',
    labelNames: ['then'],
    registers,
  });
  const histogram = (name: string, help: string, buckets: number[]) =>
    new Histogram({ name, help, buckets, registers });
  const took = histogram('endwise_reading_seconds', 'decode to reading', READING_BUCKETS);
  const waited = histogram('endwise_waited_seconds', 'from handed in to begun', WAITING_BUCKETS);
  const asked = histogram('endwise_database_seconds', 'questions to it', DATABASE_BUCKETS);
  return {
    contentType: register.contentType,
    text: async () => {
      const now = await figures().catch(() => null);
      up.set(now === null ? 0 : 1);
      for (const [name, value] of Object.entries(gauges)) {
        // What is not known is not there, rather than 0.
        value.remove();
        if (now !== null) value.set(now[name as keyof Figures]);
      }
      return register.metrics();
    },
    asked: (seconds) => asked.observe(seconds),
    read: (outcome, waitedSeconds) => {
      readings.inc({ code: outcome.ok ? 'read' : outcome.error.code });
      took.observe(outcome.elapsedMs / 1000);
      if (waitedSeconds !== undefined) waited.observe(waitedSeconds);
    },
    lost: (what) => lost.inc({ then: what }),
  };
}
