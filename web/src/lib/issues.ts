import type { z } from 'zod';

/**
 * Plain words for what a schema found wrong, for issues the contract gives no message of its own.
 * Passed to safeParse as `error`; the contract's own messages win.
 */
export function plainIssue(issue: z.core.$ZodRawIssue): string {
  const empty = issue.input === undefined || issue.input === null || issue.input === '';
  switch (issue.code) {
    case 'invalid_type':
      if (issue.expected === 'number' && typeof issue.input === 'string' && !empty) return `“${issue.input.slice(0, 40)}” is not a number.`;
      return empty ? 'Fill this in.' : `This must be ${kindWords[issue.expected] ?? 'something else'}.`;
    case 'too_small':
      return tooSmall(issue, empty);
    case 'too_big':
      return tooBig(issue);
    case 'invalid_format':
      return empty ? 'Fill this in.' : (formatWords[issue.format] ?? 'This is not written as it should be.');
    case 'invalid_value':
      return empty ? 'Choose one.' : `Choose one of: ${issue.values.map(String).join(', ')}.`;
    case 'invalid_union':
      return empty ? 'Fill this in.' : 'This is not one of the possible answers.';
    case 'not_multiple_of':
      return `Use a multiple of ${issue.divisor}.`;
    case 'unrecognized_keys':
      return 'This page sent something the server does not know. Reload the page.';
    default:
      return 'This cannot be right. Check it.';
  }
}

const kindWords: Record<string, string> = {
  string: 'text',
  number: 'a number',
  int: 'a whole number',
  boolean: 'yes or no',
  array: 'a list',
  date: 'a date',
};

const formatWords: Record<string, string> = {
  email: 'Write an e-mail address, such as name@club.example.',
  date: 'Choose a date.',
  datetime: 'Choose a date and a time.',
  uuid: 'Choose one from the list.',
  url: 'Write an address that starts with https://.',
};

function tooSmall(issue: z.core.$ZodRawIssue<z.core.$ZodIssueTooSmall>, empty: boolean): string {
  if (issue.origin === 'string') return empty ? 'Fill this in.' : `Use at least ${issue.minimum} characters.`;
  if (issue.origin === 'array' || issue.origin === 'set') return `Choose at least ${issue.minimum}.`;
  return issue.inclusive === false ? `This must be more than ${issue.minimum}.` : `This must be at least ${issue.minimum}.`;
}

function tooBig(issue: z.core.$ZodRawIssue<z.core.$ZodIssueTooBig>): string {
  if (issue.origin === 'string') return `Use at most ${issue.maximum} characters.`;
  if (issue.origin === 'array' || issue.origin === 'set') return `Choose at most ${issue.maximum}.`;
  return issue.inclusive === false ? `This must be less than ${issue.maximum}.` : `This must be at most ${issue.maximum}.`;
}
