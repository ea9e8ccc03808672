import { connect } from 'node:net';
import type { Socket } from 'node:net';

export type Answer = { status: number; head: string; body: Buffer };
export type Line = { ask(request: Buffer): Promise<Answer>; close(): void };
export type Ask = { method?: string; path: string; headers?: Record<string, string>; body?: string };

/** A request as it goes over the wire, made once and sent many times. */
export function wire({ method = 'GET', path, headers = {}, body }: Ask): Buffer {
  const all = { host: '127.0.0.1', ...headers, ...(body === undefined ? {} : { 'content-type': 'application/json', 'content-length': String(Buffer.byteLength(body)) }) };
  const head = Object.entries(all).map(([name, value]) => `${name}: ${value}\r\n`).join('');
  return Buffer.from(`${method} ${path} HTTP/1.1\r\n${head}\r\n${body ?? ''}`);
}

/**
 * One kept-alive connection, one request at a time. Node's own client costs about as much as the servers measured here,
 * and would hide the difference between them.
 */
export async function openLine(url: string): Promise<Line> {
  const { hostname, port } = new URL(url);
  const socket: Socket = connect({ host: hostname, port: Number(port), noDelay: true });
  await new Promise<void>((resolve, reject) => socket.once('connect', resolve).once('error', reject));
  let waiting: { resolve(answer: Answer): void; reject(error: Error): void } | null = null;
  let received: Buffer = Buffer.alloc(0);
  const fail = (error: Error) => {
    waiting?.reject(error);
    waiting = null;
  };
  socket.on('error', fail).on('close', () => fail(new Error('The server closed the connection.')));
  socket.on('data', (chunk) => {
    received = received.length === 0 ? chunk : Buffer.concat([received, chunk]);
    const answer = readAnswer(received);
    if (!answer) return;
    received = Buffer.alloc(0);
    const { resolve } = waiting!;
    waiting = null;
    resolve(answer);
  });
  return {
    ask: (request) => new Promise((resolve, reject) => {
      waiting = { resolve, reject };
      socket.write(request);
    }),
    close: () => void socket.destroy(),
  };
}

function readAnswer(received: Buffer): Answer | null {
  const end = received.indexOf('\r\n\r\n');
  if (end < 0) return null;
  const head = received.toString('latin1', 0, end);
  const status = Number(head.slice(9, 12));
  const length = status === 304 ? 0 : Number(/\r\ncontent-length: *(\d+)/i.exec(head)?.[1] ?? Number.NaN);
  if (Number.isNaN(length)) throw new Error(`An answer without its length cannot be measured:\n${head}`);
  return received.length < end + 4 + length ? null : { status, head, body: received.subarray(end + 4, end + 4 + length) };
}

export async function openLines(url: string, count: number): Promise<Line[]> {
  return Promise.all(Array.from({ length: count }, () => openLine(url)));
}

/** Sends the same request over all lines for a while; gives answers a second. Any other status than the one expected ends the run. */
export async function rate(lines: Line[], request: Buffer, status: number, ms: number): Promise<number> {
  const start = performance.now();
  let answers = 0;
  await Promise.all(lines.map(async (line) => {
    while (performance.now() - start < ms) {
      mustBe(status, await line.ask(request));
      answers += 1;
    }
  }));
  return answers / ((performance.now() - start) / 1000);
}

export function mustBe(status: number, answer: Answer): Answer {
  if (answer.status !== status) throw new Error(`Expected ${status}, and the answer was ${answer.status}: ${answer.body.toString()}`);
  return answer;
}
