/** Whose page a stranger is on, once that is known. */
export const door = $state<{ club: string | null }>({ club: null });
