/**
 * Tells a list and a record that are open beside each other that one of them changed something. Whoever reads a count inside
 * the function given to `load` or `pages` reads anew when it grows.
 */
export const changes = $state({ inRecord: 0, inList: 0 });
