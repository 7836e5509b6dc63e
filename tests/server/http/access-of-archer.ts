import { Gate } from '../../../server/http/guarded-routes.ts';
import { LogAccess } from '../../../server/http/log-access.ts';
import { HERE } from '../../../server/http/visitor.ts';
import type { Log } from '../../../server/log/log.ts';
import type { Action } from '../../../src/club/rights.ts';

/** The log as a device of one archer has it, by routes of an action. */
export function accessOfArcher(log: Log, archerId: string, action: Action): LogAccess {
  const device = { ...HERE, deviceId: 'phone', label: 'phone', role: 'archer', archerId } as const;
  return new LogAccess(log, new Gate(device, action));
}
