import { z } from 'zod';

/** What `npm audit --json` came to, and what the check makes of it. */

const SEVERITIES = ['info', 'low', 'moderate', 'high', 'critical'] as const;
type Severity = (typeof SEVERITIES)[number];

const advisorySchema = z.object({ title: z.string(), url: z.string() });

/** Of npm 7 and newer (auditReportVersion 2); fields from npm's own documentation and its `@npmcli/metavuln-calculator`. */
const reportSchema = z.object({
  auditReportVersion: z.literal(2),
  vulnerabilities: z.record(
    z.string(),
    z.object({ name: z.string(), severity: z.enum(SEVERITIES), via: z.array(z.union([z.string(), advisorySchema])) }),
  ),
});

/** What npm prints when the registry did not answer. */
const troubleSchema = z.object({ message: z.string() });

export type Audited =
  | { readonly kind: 'audited'; readonly grave: readonly string[]; readonly lesser: readonly string[] }
  /** Nothing is known, and why. */
  | { readonly kind: 'skipped'; readonly why: string };

const isGrave = (severity: Severity): boolean => severity === 'high' || severity === 'critical';

function parsed(json: string): unknown {
  try {
    return JSON.parse(json);
  } catch {
    return null;
  }
}

/** @param json what npm printed; null: it had printed nothing when its time was over */
export function audited(json: string | null): Audited {
  if (json === null) return { kind: 'skipped', why: 'npm did not answer in time' };
  const answer = parsed(json);
  const report = reportSchema.safeParse(answer);
  if (!report.success) {
    const trouble = troubleSchema.safeParse(answer);
    return { kind: 'skipped', why: trouble.data?.message ?? 'npm printed what is no report' };
  }
  const found = Object.values(report.data.vulnerabilities).map(({ name, severity, via }) => {
    const [advisory] = via.flatMap((each) => (typeof each === 'string' ? [] : [`${each.title} (${each.url})`]));
    return { severity, line: `${name}: ${severity}${advisory === undefined ? '' : `, ${advisory}`}` };
  });
  return {
    kind: 'audited',
    grave: found.flatMap(({ severity, line }) => (isGrave(severity) ? [line] : [])),
    lesser: found.flatMap(({ severity, line }) => (isGrave(severity) ? [] : [line])),
  };
}

export interface Verdict {
  readonly passes: boolean;
  readonly lines: readonly string[];
}

/** Fails for what runs at a pool. What only builds and tests is told, as is what is less than grave. */
export function verdictOf(production: Audited, all: Audited): Verdict {
  if (production.kind === 'skipped') {
    return {
      passes: true,
      lines: [`npm audit was skipped, so nothing is known of today's packages: ${production.why}`],
    };
  }
  const others = all.kind === 'audited' ? [...all.grave, ...all.lesser] : [];
  const told = others.filter((line) => !production.grave.includes(line));
  return {
    passes: production.grave.length === 0,
    lines: [
      ...production.grave.map((line) => `npm audit, to be mended before anything else: ${line}`),
      ...told.map((line) => `npm audit: ${line}`),
    ],
  };
}
