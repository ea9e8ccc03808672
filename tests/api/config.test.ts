import { existsSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync, chmodSync, mkdirSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { ConfigError, readConfig } from '../../server/config.ts';

const folder = mkdtempSync(path.join(tmpdir(), 'tidelarder-config-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
let count = 0;
const fresh = () => path.join(folder, `data-${(count += 1)}`);
const secret = 'a secret of well over thirty-two characters';

function refusal(env: Record<string, string>): ConfigError {
  try {
    readConfig(env);
  } catch (error) {
    if (error instanceof ConfigError) return error;
    throw error;
  }
  throw new Error('These settings were taken.');
}

test('with nothing set it listens on this machine alone, with the embedded database in the data folder', () => {
  const dataDir = fresh();
  const config = readConfig({ DATA_DIR: dataDir });
  expect(config).toMatchObject({ host: '127.0.0.1', port: 8080, publicUrl: 'http://localhost:8080', databaseUrl: null, dataDir, logLevel: 'info', trustedProxies: [] });
});

test('every setting is read', () => {
  const dataDir = fresh();
  const config = readConfig({
    HOST: '0.0.0.0', PORT: '9000', PUBLIC_URL: 'https://fish.example.org/', DATABASE_URL: 'postgresql://u:p@db:5432/fish', DATA_DIR: dataDir, SECRET: secret,
    LOG_LEVEL: 'warn', TRUSTED_PROXIES: '10.0.0.1, 10.0.0.2',
  });
  expect(config).toEqual({
    host: '0.0.0.0', port: 9000, publicUrl: 'https://fish.example.org', databaseUrl: 'postgresql://u:p@db:5432/fish', dataDir, secret,
    logLevel: 'warn', trustedProxies: ['10.0.0.1', '10.0.0.2'],
  });
  expect(existsSync(path.join(dataDir, 'secret'))).toBe(false);
});

test('all bad settings are listed at once, each with its value and what to do', () => {
  const bad = refusal({ PORT: '99999', PUBLIC_URL: 'fish.example.org/club', LOG_LEVEL: 'loud', SECRET: 'too short', DATABASE_URL: 'mysql://u:p@db/fish', DATA_DIR: fresh() });
  expect(bad.problems.map((p) => p.setting).sort()).toEqual(['DATABASE_URL', 'LOG_LEVEL', 'PORT', 'PUBLIC_URL', 'SECRET']);
  for (const { setting, remedy } of bad.problems) expect(remedy, setting).toMatch(/^(Use|Name) .{20,}/);
  expect(bad.problems.find((p) => p.setting === 'PORT')).toEqual({ setting: 'PORT', value: '99999', remedy: 'Use a whole number from 1 to 65535, such as 8080.' });
  for (const { setting, value, remedy } of bad.problems) {
    expect(bad.message).toContain(`${setting}=${value}`);
    expect(bad.message).toContain(remedy);
  }
});

test.each(['0', '-1', '80.5', '1e3', 'http', '65536'])('port %s is refused', (PORT) => {
  expect(refusal({ PORT, DATA_DIR: fresh() }).problems).toMatchObject([{ setting: 'PORT', value: PORT }]);
});

test.each(['ftp://fish.example.org', 'https://fish.example.org/club', 'https://fish.example.org/?a=1', 'https://fish.example.org/#a', 'https://me@fish.example.org', 'fish'])('public address %s is refused', (PUBLIC_URL) => {
  expect(refusal({ PUBLIC_URL, DATA_DIR: fresh() }).problems).toMatchObject([{ setting: 'PUBLIC_URL', value: PUBLIC_URL }]);
});

test('a secret value is never shown, not even a bad one', () => {
  const bad = refusal({ SECRET: 'hush-hush', DATABASE_URL: 'postgre://admin:sesame@db/fish', PORT: 'x', DATA_DIR: fresh() });
  const told = `${bad.message}\n${bad.stack ?? ''}\n${JSON.stringify(bad)}`;
  for (const hidden of ['hush-hush', 'sesame', 'admin', 'db/fish']) expect(told).not.toContain(hidden);
  expect(bad.problems.find((p) => p.setting === 'SECRET')?.value).toBe('(9 characters)');
});

test('a secret is made once, kept for its owner alone, and used again', () => {
  const dataDir = fresh();
  const first = readConfig({ DATA_DIR: dataDir }).secret;
  const file = path.join(dataDir, 'secret');
  expect(first.length).toBeGreaterThanOrEqual(64);
  expect(readFileSync(file, 'utf8').trim()).toBe(first);
  expect(statSync(file).mode & 0o777).toBe(0o600);
  expect(statSync(dataDir).mode & 0o077).toBe(0);
  chmodSync(file, 0o644);
  expect(readConfig({ DATA_DIR: dataDir }).secret).toBe(first);
  expect(statSync(file).mode & 0o777).toBe(0o600);
  expect(readConfig({ DATA_DIR: fresh() }).secret).not.toBe(first);
});

test('a kept secret that is too short is refused, and not shown', () => {
  const dataDir = fresh();
  mkdirSync(dataDir);
  writeFileSync(path.join(dataDir, 'secret'), '\n');
  expect(refusal({ DATA_DIR: dataDir }).problems).toMatchObject([{ setting: 'DATA_DIR', value: path.join(dataDir, 'secret') }]);
});

test('nothing is made while a setting is bad', () => {
  const dataDir = fresh();
  refusal({ DATA_DIR: dataDir, PORT: 'x' });
  expect(existsSync(dataDir)).toBe(false);
});

test('SECRET_FILE and DATABASE_URL_FILE name files that hold the value', () => {
  const [secretFile, databaseFile] = [path.join(folder, 'secret.txt'), path.join(folder, 'database.txt')];
  writeFileSync(secretFile, `${secret}\n`);
  writeFileSync(databaseFile, 'postgresql://u:p@db:5432/fish\n');
  const config = readConfig({ DATA_DIR: fresh(), SECRET_FILE: secretFile, DATABASE_URL_FILE: databaseFile });
  expect(config).toMatchObject({ secret, databaseUrl: 'postgresql://u:p@db:5432/fish' });
});

test('a named file that is not there, or holds nothing of use, is refused with the others', () => {
  const short = path.join(folder, 'short.txt');
  writeFileSync(short, 'hush-hush\n');
  const missing = path.join(folder, 'nowhere.txt');
  const bad = refusal({ DATA_DIR: fresh(), SECRET_FILE: short, DATABASE_URL_FILE: missing, LOG_LEVEL: 'loud' });
  expect(bad.problems.map((p) => p.setting).sort()).toEqual(['DATABASE_URL_FILE', 'LOG_LEVEL', 'SECRET']);
  expect(bad.problems.find((p) => p.setting === 'DATABASE_URL_FILE')).toMatchObject({ value: missing });
  expect(bad.message).not.toContain('hush-hush');
});

test('a data folder that cannot be made is refused with its path', () => {
  const file = path.join(folder, 'a-file');
  writeFileSync(file, '');
  const inside = path.join(file, 'data');
  expect(refusal({ DATA_DIR: inside }).problems).toMatchObject([{ setting: 'DATA_DIR', value: inside }]);
});
