import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { pairedIdSchema } from '../../shared-types/brand.ts';
import {
  codeAsShown,
  type DevicesAnswer,
  type Paired,
  pairDeviceSchema,
  type ShownCode,
  showCodeSchema,
} from '../../shared-types/wire/pairing.ts';
import { failure } from '../failure.ts';
import type { StoredDevice } from '../store/device-store.ts';
import { read, sendFailure } from './answers.ts';
import { NOT_PAIRED } from './guard.ts';
import type { WebParts } from './web-parts.ts';

const paramsSchema = z.object({ id: pairedIdSchema });

const NO_SUCH_DEVICE = failure('no-such-device', 'There is no such device; its pairing may have been ended already.');

const pairedOf = ({ id, name, access }: StoredDevice): Paired => ({ id, name, access });

/** Pairing devices, and seeing and ending what is paired. */
export function deviceRoutes(app: FastifyInstance, parts: WebParts): void {
  ownRoutes(app, parts);
  ownersRoutes(app, parts);
}

/** What a device does for itself. */
function ownRoutes(app: FastifyInstance, { devices, pairing, note }: WebParts): void {
  app.get('/api/access', ({ device }, reply) =>
    device ? reply.send(pairedOf(device)) : sendFailure(reply, NOT_PAIRED),
  );

  app.delete('/api/access', ({ device }, reply) => {
    if (device) devices.end(device.id);
    return reply.header('set-cookie', devices.cookieGone()).send({ ended: true });
  });

  app.post('/api/devices', (request, reply) => {
    const asked = read(pairDeviceSchema, request.body, 'bad-request');
    if (!asked.ok) return sendFailure(reply, asked);
    const full = devices.full();
    if (full) return sendFailure(reply, full);
    const redeemed = pairing.redeem(asked.value.code, request.ip);
    if (!redeemed.ok) {
      // Those that come too often are not counted: they would fill the log.
      if (redeemed.code === 'wrong-code') note({ what: 'wrong-code' });
      return sendFailure(reply, redeemed);
    }
    const { device, cookie } = devices.pair(asked.value.name, redeemed.access, request.device?.id ?? null);
    note({ what: 'paired', access: redeemed.access, device: device.id });
    return reply.header('set-cookie', cookie).send(pairedOf(device));
  });
}

/** What owners do about all devices. */
function ownersRoutes(app: FastifyInstance, { devices, pairing, pages, addresses, note }: WebParts): void {
  const list = (): DevicesAnswer => ({
    devices: devices.list().map(({ secretHash: _, ...device }) => ({ ...device, pages: pages.openOf(device.id) })),
    addresses: [...addresses().elsewhere],
  });

  app.get('/api/devices', (_request, reply) => reply.send(list()));

  app.delete('/api/devices/:id', (request, reply) => {
    const params = read(paramsSchema, request.params, 'bad-request');
    if (!params.ok) return sendFailure(reply, params);
    if (!devices.end(params.value.id)) return sendFailure(reply, NO_SUCH_DEVICE);
    note({ what: 'unpaired', device: params.value.id });
    return reply.send(list());
  });

  app.post('/api/pairing', (request, reply) => {
    const asked = read(showCodeSchema, request.body, 'bad-request');
    if (!asked.ok) return sendFailure(reply, asked);
    const { access } = asked.value;
    const { code, until } = pairing.show(access);
    const shown: ShownCode = { code: codeAsShown(code), access, until };
    return reply.send(shown);
  });

  app.delete('/api/pairing', (_request, reply) => {
    pairing.hide();
    return reply.send({ ended: true });
  });
}
