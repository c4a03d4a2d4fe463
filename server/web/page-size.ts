import { z } from 'zod';

/** A number from 1 up to what one answer holds. @param what is counted, for the message */
export const upTo = ({ usual, most }: { usual: number; most: number }, what: string) =>
  z.coerce
    .number(`not a number of ${what}`)
    .int(`not a whole number of ${what}`)
    .min(1, `not a number of ${what} from 1 on`)
    .max(most, `more than the ${most} ${what} that one answer holds`)
    .default(usual);
