/**
 * What columns of birth dates and ages are called in the languages of clubs that we know of. Farwall keeps neither: no
 * target is worked out from them.
 */
const BIRTH =
  /birth|\bborn\b|\b(d\.? ?o\.? ?b|y\.? ?o\.? ?b)\b|^age$|^alter$|geburt|geboren|jahrgang|naissance|nacimiento|nascimento|nascita|geboorte|fødsel|födelse|syntymä|urodzenia|narození/iu;

/** Whether a column's name says that birth dates or ages stand in it. */
export const isOfBirth = (name: string): boolean => BIRTH.test(name.trim().replaceAll('_', ' '));
