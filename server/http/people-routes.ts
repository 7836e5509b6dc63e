import { json, type Request, type Response } from 'express';
import { z } from 'zod';
import { ownerFor, type Owner } from '../../src/club/rights.ts';
import { idSchema } from '../../src/tuning/record/session.ts';
import { CODE_MINUTES, type Device, type Holder } from '../log/device-store.ts';
import type { Log } from '../log/log.ts';
import type { Gate, GuardedRoutes } from './guarded-routes.ts';
import { HttpError } from './http-error.ts';
import type { Visitor } from './visitor.ts';

const name = z.string().trim().min(1).max(80);

const codeSchema = z
  .object({ archer: idSchema, coach: idSchema, keeper: z.literal(true), label: name })
  .partial()
  .refine(
    ({ archer, coach, keeper }) =>
      [archer, coach, keeper].filter((one) => one !== undefined).length === 1,
    'Say for whom: an archer, a coach, or keeper.',
  );

const coachSchema = z.object({ id: idSchema, name, archerIds: z.array(idSchema).max(2000) });

const trailQuerySchema = z.object({
  before: z.coerce.number().int().positive().optional(),
  archer: idSchema.optional(),
});

/**
 * Who may do what. GET /rights: what the device that asks is, and for whom it speaks. /devices: those
 * that are paired. POST /pairing-codes `{"archer": ID}`, `{"coach": ID}` or `{"keeper": true}`: a code
 * for one more. /coaches: who coaches whom. GET /trail: who changed what, newest first; `before` goes on.
 */
export function addPeopleRoutes(routes: GuardedRoutes, log: Log): void {
  const body = json({ limit: '128kb' });

  routes.get('/rights', 'see-own-rights', async (_request, response, gate) => {
    response.json(await rightsOf(gate.visitor, log));
  });

  routes.get('/devices', 'see-devices', async (_request, response, gate) => {
    const devices = await log.devices.devices();
    response.json(devices.filter((device) => gate.may(ownerOfDevice(device, gate.visitor))));
  });
  routes.delete('/devices/:id', 'remove-device', async (request, response, gate) => {
    const { id } = request.params;
    const device = (await log.devices.devices()).find((one) => one.id === id);
    const isTheirs = device !== undefined && gate.may(ownerOfDevice(device, gate.visitor));
    if (!isTheirs || (await log.devices.revoke(device.id, gate.visitor)) === 0) {
      throw new HttpError(404, 'unknown-device', 'There is no such device.');
    }
    response.status(204).end();
  });

  routes.post('/pairing-codes', 'pair', body, async (request, response, gate) => {
    const { archer, coach, label } = codeSchema.parse(request.body ?? {});
    const holder: Holder =
      archer !== undefined
        ? { role: 'archer', archerId: archer }
        : coach !== undefined
          ? { role: 'coach', coachId: coach }
          : { role: 'keeper' };
    gate.need(archer === undefined ? 'club' : ownerFor(gate.visitor, archer));
    const code = await log.devices.newCode(holder, { label, by: gate.visitor });
    response.status(201).json({ code, minutes: CODE_MINUTES });
  });

  routes.get('/coaches', 'see-coaches', async (_request, response, gate) => {
    gate.need('club');
    response.json(await log.coaches.coaches());
  });
  routes.put('/coaches/:id', 'change-coaches', body, async (request, response, gate) => {
    gate.need('club');
    const coach = coachSchema.parse(request.body ?? {});
    if (coach.id !== request.params['id']) {
      throw new HttpError(
        400,
        'bad-request',
        'The id in the address is not the one that was sent.',
      );
    }
    await log.coaches.put(coach, gate.visitor);
    response.status(204).end();
  });
  routes.delete('/coaches/:id', 'change-coaches', async (request, response, gate) => {
    gate.need('club');
    await log.coaches.delete(z.string().parse(request.params['id']), gate.visitor);
    response.status(204).end();
  });

  routes.get('/trail', 'see-trail', async (request: Request, response: Response, gate: Gate) => {
    gate.need('club');
    const { before, archer } = trailQuerySchema.parse(request.query);
    response.json(await log.trail.entries({ before, archerId: archer }));
  });
}

/** A coach's devices are one another's own; a keeper's are the club's. */
function ownerOfDevice({ id, holder }: Device, visitor: Visitor): Owner {
  if (id === visitor.deviceId) return 'own';
  switch (holder.role) {
    case 'archer':
      return ownerFor(visitor, holder.archerId);
    case 'coach':
      return holder.coachId === visitor.coachId ? 'own' : 'club';
    case 'keeper':
      return 'club';
  }
}

async function rightsOf({ deviceId, role, label, archerId, coachId }: Visitor, log: Log) {
  const archer = archerId === null ? null : (await log.archers()).find(({ id }) => id === archerId);
  const coach =
    coachId === null ? null : (await log.coaches.coaches()).find(({ id }) => id === coachId);
  return {
    deviceId,
    role,
    label,
    archer: archer ? { id: archer.id, name: archer.name } : null,
    coach: coach ? { id: coach.id, name: coach.name } : null,
  };
}
