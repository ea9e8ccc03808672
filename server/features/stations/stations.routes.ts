import { idParams } from '../../contract/common.ts';
import { station, stationBody, stationList, stationPatch } from '../../contract/stations.ts';
import type { Context } from '../../platform/context.ts';
import type { App } from '../../platform/http/app-type.ts';
import { sendTagged } from '../../platform/http/etag.ts';
import { unitOf } from '../../platform/http/unit-of-request.ts';
import * as stations from './stations.service.ts';

const tags = ['stations'];

export async function stationRoutes(app: App, { context }: { context: Context }): Promise<void> {
  app.get('/api/stations', { config: { access: 'member' }, schema: { tags, summary: 'The stations', response: { 200: stationList } } }, async (request, reply) =>
    sendTagged(request, reply, await stations.listStations(context)),
  );
  app.post('/api/stations', { config: { access: 'captain' }, schema: { tags, summary: 'Add a station', body: stationBody, response: { 201: station } } }, async (request, reply) => {
    const made = await stations.addStation(unitOf(request, context), request.body);
    return reply.code(201).send(made);
  });
  app.patch('/api/stations/:id', { config: { access: 'captain' }, schema: { tags, summary: 'Change a station', params: idParams, body: stationPatch, response: { 200: station } } }, async (request) =>
    stations.changeStation(unitOf(request, context), request.params.id, request.body),
  );
}
