import { batchDetail } from '../../contract/batches.ts';
import { idParams } from '../../contract/common.ts';
import { measurementBody, measurementPatch, readingColumnsBody, readingColumnsMade, readingListChanged, readingListPatch, readingsBody, readingsMade, readingsOfBatch, readingsQuery, releaseBody, releasePatch } from '../../contract/evidence.ts';
import type { Context } from '../../platform/context.ts';
import type { App } from '../../platform/http/app-type.ts';
import { sendTagged } from '../../platform/http/etag.ts';
import { unitOf } from '../../platform/http/unit-of-request.ts';
import { addMeasurement, changeMeasurement } from './measurements.service.ts';
import { addRelease, endRelease } from './releases.service.ts';
import { addReadingColumns, addReadings, changeList, listReadings } from './readings.service.ts';

const tags = ['evidence'];

export async function evidenceRoutes(app: App, { context }: { context: Context }): Promise<void> {
  app.get('/api/batches/:id/readings', { config: { access: 'member' }, schema: { tags, summary: 'The temperature readings of a batch, list by list', params: idParams, querystring: readingsQuery, response: { 200: readingsOfBatch } } }, async (request, reply) =>
    sendTagged(request, reply, await listReadings(context, request.params.id, request.query)),
  );
  app.post('/api/batches/:id/readings', { config: { access: 'crew' }, schema: { tags, summary: 'Record temperature readings, as rows or as a logger’s text', params: idParams, body: readingsBody, response: { 201: readingsMade } } }, async (request, reply) =>
    reply.code(201).send(await addReadings(context, unitOf(request, context), request.params.id, request.body)),
  );
  app.post('/api/batches/:id/reading-columns', { config: { access: 'crew' }, schema: { tags, summary: 'Record a logger’s table, a list for each of its columns', params: idParams, body: readingColumnsBody, response: { 201: readingColumnsMade } } }, async (request, reply) =>
    reply.code(201).send(await addReadingColumns(context, unitOf(request, context), request.params.id, request.body)),
  );
  app.patch('/api/reading-lists/:id', { config: { access: 'crew' }, schema: { tags, summary: 'Withdraw readings, or confirm their unit', params: idParams, body: readingListPatch, response: { 200: readingListChanged } } }, async (request) =>
    changeList(unitOf(request, context), request.params.id, request.body),
  );
  app.post('/api/batches/:id/measurements', { config: { access: 'captain' }, schema: { tags, summary: 'Record what a laboratory found in a sample', params: idParams, body: measurementBody, response: { 201: batchDetail } } }, async (request, reply) =>
    reply.code(201).send(await addMeasurement(context, unitOf(request, context), request.params.id, request.body)),
  );
  app.patch('/api/measurements/:id', { config: { access: 'captain' }, schema: { tags, summary: 'Withdraw a laboratory’s figure', params: idParams, body: measurementPatch, response: { 200: batchDetail } } }, async (request) =>
    changeMeasurement(unitOf(request, context), request.params.id, request.body),
  );
  app.post('/api/batches/:id/releases', { config: { access: 'captain' }, schema: { tags, summary: 'Let a batch go although a rule stands against it', params: idParams, body: releaseBody, response: { 201: batchDetail } } }, async (request, reply) =>
    reply.code(201).send(await addRelease(context, unitOf(request, context), request.params.id, request.body)),
  );
  app.patch('/api/releases/:id', { config: { access: 'captain' }, schema: { tags, summary: 'End a release', params: idParams, body: releasePatch, response: { 200: batchDetail } } }, async (request) =>
    endRelease(unitOf(request, context), request.params.id, request.body),
  );
}
