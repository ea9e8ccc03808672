import type { App } from '../../server/platform/http/app-type.ts';

/** Every route of the API as "GET /api/boats", read from the router itself, so that hidden ones are among them. */
export function routesOf(app: App): string[] {
  const found: string[] = [];
  const above: string[] = [];
  for (const line of app.printRoutes({ commonPrefix: false }).split('\n')) {
    const parts = /^([│ ]*)[├└]── (\S*)(?: \(([A-Z, ]+)\))?$/.exec(line);
    if (!parts) {
      if (line.trim() !== '') throw new Error(`This line of the router's tree was not understood: ${line}`);
      continue;
    }
    const depth = parts[1]!.length / 4;
    above.length = depth;
    above.push(parts[2]!);
    for (const method of parts[3]?.split(', ') ?? []) found.push(`${method} ${above.join('')}`);
  }
  return found.filter((route) => route.includes(' /api/'));
}
