import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { constraintViolation, databaseFault } from '../../server/platform/database/constraint-errors.ts';
import type { Database } from '../../server/platform/database/open.ts';
import { everyDatabase } from '../support/database.ts';

const scratch = `
  CREATE TABLE scratch_parent (id integer CONSTRAINT scratch_parent_pkey PRIMARY KEY);
  CREATE TABLE scratch (
    id integer CONSTRAINT scratch_pkey PRIMARY KEY,
    size integer CONSTRAINT scratch_size_positive CHECK (size > 0),
    parent integer CONSTRAINT scratch_parent_fkey REFERENCES scratch_parent (id) ON DELETE RESTRICT,
    room int4range,
    CONSTRAINT scratch_room_free EXCLUDE USING gist (room WITH &&)
  );
  CREATE FUNCTION scratch_rule() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN
    RAISE EXCEPTION 'too wide' USING ERRCODE = '23514', CONSTRAINT = 'scratch_width', TABLE = 'scratch',
      DETAIL = json_build_object('size', NEW.size)::text;
  END $$;
  CREATE TRIGGER scratch_width AFTER INSERT ON scratch FOR EACH ROW WHEN (NEW.size = 99) EXECUTE FUNCTION scratch_rule();
  CREATE CONSTRAINT TRIGGER scratch_late AFTER INSERT ON scratch DEFERRABLE INITIALLY DEFERRED
    FOR EACH ROW WHEN (NEW.size = 77) EXECUTE FUNCTION scratch_rule();
  INSERT INTO scratch_parent VALUES (1);
  INSERT INTO scratch VALUES (1, 1, 1, '[1,10)');`;

const broken: [sql: string, expected: object][] = [
  ['INSERT INTO scratch VALUES (1, 1, 1, NULL)', { kind: 'unique', constraint: 'scratch_pkey', table: 'scratch' }],
  ['INSERT INTO scratch VALUES (2, 0, 1, NULL)', { kind: 'check', constraint: 'scratch_size_positive', table: 'scratch' }],
  ['INSERT INTO scratch VALUES (2, 1, 7, NULL)', { kind: 'foreign-key', constraint: 'scratch_parent_fkey', table: 'scratch' }],
  ['DELETE FROM scratch_parent', { kind: 'foreign-key', constraint: 'scratch_parent_fkey' }],
  [`INSERT INTO scratch VALUES (2, 1, 1, '[5,6)')`, { kind: 'exclusion', constraint: 'scratch_room_free', table: 'scratch' }],
  ['INSERT INTO scratch VALUES (2, 99, 1, NULL)', { kind: 'raised', constraint: 'scratch_width', table: 'scratch', message: 'too wide', detail: '{"size" : 99}' }],
];

async function failure(run: Promise<unknown>): Promise<unknown> {
  return run.then(() => { throw new Error('It did not fail.'); }, (error: unknown) => error);
}

describe.each(everyDatabase)('broken rules on the %s database', (_kind, make) => {
  let database: Database;
  let drop: () => Promise<void>;
  beforeAll(async () => {
    ({ database, drop } = await make());
    await database.admin((connection) => connection.transaction((inner) => inner.exec(scratch)));
  });
  afterAll(() => drop());

  it.each(broken)('are named alike by every path: %s', async (sql, expected) => {
    const paths = {
      raw: database.query('', sql),
      rawTransaction: database.rawTransaction((query) => query('', sql)),
      prisma: database.prisma.$executeRawUnsafe(sql),
      prismaQuery: database.prisma.$queryRawUnsafe(`${sql} RETURNING 1`),
      prismaTransaction: database.transaction((tx) => tx.$executeRawUnsafe(sql)),
    };
    const seen = await Promise.all(Object.entries(paths).map(async ([path, run]) => [path, constraintViolation(await failure(run))]));
    for (const [path, violation] of seen) expect(violation, String(path)).toMatchObject(expected);
  });

  it('checked at commit are not lost', async () => {
    const sql = 'INSERT INTO scratch VALUES (3, 77, 1, NULL)';
    const paths = [
      () => database.rawTransaction((query) => query('', sql)),
      () => database.transaction((tx) => tx.$executeRawUnsafe(sql)),
      () => database.prisma.$transaction([database.prisma.$executeRawUnsafe(sql)]),
      () => database.prisma.$executeRawUnsafe(sql),
    ];
    for (const run of paths) {
      expect(constraintViolation(await failure(run()))).toMatchObject({ kind: 'raised', constraint: 'scratch_width', detail: '{"size" : 77}' });
    }
    expect(await database.query('', 'SELECT id FROM scratch WHERE size = 77')).toEqual([]);
  });

  it('are named when a model of Prisma breaks them', async () => {
    const { prisma } = database;
    await prisma.boat.create({ data: { name: 'Curlew' } });
    const captain = await prisma.member.create({
      data: { name: 'Ada', userName: 'ada', role: 'captain', passwordHash: 'x', joinedAt: new Date('2026-01-01T00:00:00Z') },
    });
    const token = { memberId: randomUUID(), familyId: randomUUID(), tokenHash: 'x', createdAt: new Date(0), expiresAt: new Date(1) };
    const cases: [() => Promise<unknown>, object][] = [
      [() => prisma.boat.create({ data: { name: 'Curlew' } }), { kind: 'unique', constraint: 'boat_name_key', table: 'boat' }],
      [() => prisma.club.create({ data: { id: 2, name: 'Second', timeZone: 'UTC' } }), { kind: 'check', constraint: 'club_only_one', table: 'club' }],
      [() => prisma.refreshToken.create({ data: token }), { kind: 'foreign-key', constraint: 'refresh_token_member_id_fkey' }],
      [() => prisma.member.update({ where: { id: captain.id }, data: { role: 'crew' } }), { kind: 'raised', constraint: 'member_last_captain', table: 'member' }],
    ];
    for (const [run, expected] of cases) expect(constraintViolation(await failure(run()))).toMatchObject(expected);
  });

  it('are null for errors of other kinds, which keep their code', async () => {
    const noTable = await failure(database.query('', 'SELECT 1 FROM nowhere'));
    expect(constraintViolation(noTable)).toBeNull();
    expect(databaseFault(noTable)?.code).toBe('42P01');
    expect(databaseFault(await failure(database.prisma.$queryRawUnsafe('SELECT 1 / 0')))?.code).toBe('22012');
    expect(constraintViolation(await failure(database.prisma.$queryRawUnsafe(`DO $$ BEGIN RAISE EXCEPTION 'unnamed'; END $$`)))).toBeNull();
    for (const other of [new Error('x'), null, undefined, 'text', { code: 'P2002' }]) expect(constraintViolation(other)).toBeNull();
  });
});
