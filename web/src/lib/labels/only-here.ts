/** Whether an address leads nowhere from any other device: codes that hold it open on no phone. */
export function leadsOnlyHere(address: string): boolean {
  try {
    const { hostname } = new URL(address);
    return hostname === 'localhost' || hostname.endsWith('.localhost') || hostname === '[::1]' || hostname === '0.0.0.0' || /^127\./.test(hostname);
  } catch {
    return false;
  }
}
