import type { Context } from '../../platform/context.ts';

/** Address of a pack's public page, as it stands in the code on its label. */
export const publicUrl = (context: Context, code: string): string => `${context.config.publicUrl}/p/${code}`;
