import { z } from 'zod';
import { idParams } from '../../contract/common.ts';
import { labelLayout, labelLayoutBody, labelLayoutList, labelLayoutPatch, labelRun, labelRunBody } from '../../contract/labels.ts';
import type { Context } from '../../platform/context.ts';
import type { App } from '../../platform/http/app-type.ts';
import { sendTagged } from '../../platform/http/etag.ts';
import { unitOf } from '../../platform/http/unit-of-request.ts';
import { addLayout, changeLayout, listLayouts } from './labels.layouts.ts';
import { drawLabels, printLabels } from './labels.service.ts';

const tags = ['labels'];
const pdf = { description: 'The labels', content: { 'application/pdf': { schema: z.string().meta({ format: 'binary' }) } } };

export async function labelRoutes(app: App, { context }: { context: Context }): Promise<void> {
  app.get('/api/label-layouts', { config: { access: 'crew' }, schema: { tags, summary: 'Label layouts: those that come with the service and the club’s own', response: { 200: labelLayoutList } } }, async (request, reply) =>
    sendTagged(request, reply, await listLayouts(context)),
  );
  app.post('/api/label-layouts', { config: { access: 'crew' }, schema: { tags, summary: 'Add a label layout', body: labelLayoutBody, response: { 201: labelLayout } } }, async (request, reply) => {
    const made = await addLayout(unitOf(request, context), request.body);
    return reply.code(201).send(made);
  });
  app.patch('/api/label-layouts/:id', { config: { access: 'crew' }, schema: { tags, summary: 'Change a label layout of the club', params: idParams, body: labelLayoutPatch, response: { 200: labelLayout } } }, async (request) =>
    changeLayout(unitOf(request, context), request.params.id, request.body),
  );
  app.post('/api/label-runs', { config: { access: 'crew' }, schema: { tags, summary: 'Settle a print of labels', body: labelRunBody, response: { 201: labelRun } } }, async (request, reply) => {
    const made = await printLabels(context, unitOf(request, context), request.body);
    return reply.code(201).send(made);
  });
  app.get('/api/label-runs/:id/pdf', { config: { access: 'crew' }, schema: { tags, summary: 'The labels of a print as PDF', params: idParams, response: { 200: pdf } } }, async (request, reply) => {
    const bytes = await drawLabels(context, request.actor, request.params.id);
    void reply.header('content-type', 'application/pdf').header('content-disposition', 'inline; filename="labels.pdf"').header('cache-control', 'private, no-store');
    return reply.send(bytes as unknown as string);
  });
}
