import { idParams } from '../../contract/common.ts';
import { claim, claimBody, claimDecisionBody, claimList, claimMoveBody, claimQuery, claimSeveralBody, claimsMade } from '../../contract/packs.ts';
import type { Context } from '../../platform/context.ts';
import type { App } from '../../platform/http/app-type.ts';
import { sendTagged } from '../../platform/http/etag.ts';
import { unitOf } from '../../platform/http/unit-of-request.ts';
import * as claims from './claims.service.ts';

const tags = ['claims'];
const answer = { params: idParams, response: { 200: claim } };

export async function claimRoutes(app: App, { context }: { context: Context }): Promise<void> {
  app.get('/api/claims', { config: { access: 'member' }, schema: { tags, summary: 'Claims, newest first: a member’s own, everybody’s for crew', querystring: claimQuery, response: { 200: claimList } } }, async (request, reply) =>
    sendTagged(request, reply, await claims.listClaims(context, request.actor, request.query)),
  );
  app.post('/api/claims', { config: { access: 'member' }, schema: { tags, summary: 'Claim a pack', body: claimBody, response: { 201: claim } } }, async (request, reply) => {
    const made = await claims.claimPack(context, unitOf(request, context), request.body);
    return reply.code(201).send(made);
  });
  app.post('/api/claims/several', { config: { access: 'member' }, schema: { tags, summary: 'Claim several packs: all of them, or none', body: claimSeveralBody, response: { 201: claimsMade } } }, async (request, reply) => {
    const made = await claims.claimSeveral(context, unitOf(request, context), request.body);
    return reply.code(201).send(made);
  });
  app.post('/api/claims/:id/confirm', { config: { access: 'captain' }, schema: { tags, summary: 'Confirm a claim', body: claimDecisionBody, ...answer } }, async (request) =>
    claims.confirmClaim(unitOf(request, context), request.params.id, request.body),
  );
  app.post('/api/claims/:id/refuse', { config: { access: 'captain' }, schema: { tags, summary: 'Refuse a claim; the pack is free again', body: claimDecisionBody, ...answer } }, async (request) =>
    claims.refuseClaim(unitOf(request, context), request.params.id, request.body),
  );
  app.post('/api/claims/:id/move', { config: { access: 'captain' }, schema: { tags, summary: 'Move a claim to another pack or member', body: claimMoveBody, ...answer } }, async (request) =>
    claims.moveClaim(context, unitOf(request, context), request.params.id, request.body),
  );
  app.post('/api/claims/:id/withdraw', { config: { access: 'member' }, schema: { tags, summary: 'Withdraw a claim of one’s own', body: claimDecisionBody, ...answer } }, async (request) =>
    claims.withdrawClaim(unitOf(request, context), request.params.id, request.body),
  );
}
