import { z } from 'zod';

/** Pages forbid eval (their content security policy); without this zod tries it and the browser reports a violation. */
z.config({ jitless: true });
