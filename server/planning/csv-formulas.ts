/**
 * What a spreadsheet would take for a formula. Source: CWE-1236; which characters, tab and other controls among them: OWASP
 * ASVS 5.0, 1.2.10. An export writes an apostrophe before it.
 */
export const FORMULA = /^[=+\-@\p{Cc}]/u;

/** Text as it was before an export guarded it. */
export const unguarded = (text: string): string => (/^'+[=+\-@\p{Cc}]/u.test(text) ? text.slice(1) : text);

/** Text that an import reads as it was, apostrophes before a formula too. */
export const guarded = (text: string): string => (FORMULA.test(text.replace(/^'+/, '')) ? `'${text}` : text);
