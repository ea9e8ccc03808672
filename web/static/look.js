// Runs before the first paint: a device that chose light or dark keeps it. See src/lib/look.svelte.ts.
try {
  var look = localStorage.getItem('tidelarder.look');
  if (look === 'light' || look === 'dark') document.documentElement.dataset.look = look;
} catch (_) {
  // Storage may be refused; the device's own setting then decides.
}
