import { species, speciesBody, speciesList, speciesParams, speciesPatch } from '../../contract/catch.ts';
import type { Context } from '../../platform/context.ts';
import type { App } from '../../platform/http/app-type.ts';
import { sendTagged } from '../../platform/http/etag.ts';
import { unitOf } from '../../platform/http/unit-of-request.ts';
import { addSpecies, changeSpecies, listSpecies } from './species.service.ts';

const tags = ['species'];

export async function speciesRoutes(app: App, { context }: { context: Context }): Promise<void> {
  app.get('/api/species', { config: { access: 'member' }, schema: { tags, summary: 'The species of the tables and the club’s own', response: { 200: speciesList } } }, async (request, reply) =>
    sendTagged(request, reply, await listSpecies(context)),
  );
  app.post('/api/species', { config: { access: 'crew' }, schema: { tags, summary: 'Add a species of the club’s own', body: speciesBody, response: { 201: species } } }, async (request, reply) =>
    reply.code(201).send(await addSpecies(unitOf(request, context), request.body)),
  );
  app.patch('/api/species/:code', { config: { access: 'crew' }, schema: { tags, summary: 'Change a species of the club’s own', params: speciesParams, body: speciesPatch, response: { 200: species } } }, async (request) =>
    changeSpecies(unitOf(request, context), request.params.code, request.body),
  );
}
