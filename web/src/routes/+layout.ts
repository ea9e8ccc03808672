// One page for every address: nothing here is rendered on a server or at build time.
export const ssr = false;
export const prerender = false;
