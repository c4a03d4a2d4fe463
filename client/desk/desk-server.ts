import { z } from 'zod';
import type { DeviceId, PairedId, PracticeId, RunId, SwimmerId } from '../../shared-types/brand.ts';
import type { RepLoad } from '../../shared-types/loads.ts';
import type { Pool } from '../../shared-types/pool.ts';
import type { Swimmer } from '../../shared-types/squad.ts';
import { type Absences, absencesSchema } from '../../shared-types/wire/absences.ts';
import type { Access } from '../../shared-types/wire/access.ts';
import {
  type DemoRestored,
  type DemoState,
  demoAnswerSchema,
  demoRestoredSchema,
  demoStateSchema,
  type PracticeSummary,
  type Preview,
  type PutOnWall,
  poolAnswerSchema,
  practiceSummarySchema,
  previewSchema,
  type SavePractice,
  type SquadAnswer,
  type StoredPractice,
  squadAnswerSchema,
  storedPracticeSchema,
} from '../../shared-types/wire/desk.ts';
import { liveRunSchema } from '../../shared-types/wire/from-server.ts';
import {
  type SetHistoryAnswer,
  type SetKindsAnswer,
  setHistoryAnswerSchema,
  setKindsAnswerSchema,
  type WeeksAnswer,
  weeksAnswerSchema,
} from '../../shared-types/wire/history.ts';
import {
  type ChangeLanes,
  type LanesProposal,
  type LanesQuestion,
  lanesProposalSchema,
} from '../../shared-types/wire/lanes.ts';
import {
  deletedAnswerSchema,
  type FoundAnswer,
  foundAnswerSchema,
  type VersionsAnswer,
  versionsAnswerSchema,
} from '../../shared-types/wire/library.ts';
import {
  type DevicesAnswer,
  devicesSchema,
  endedSchema,
  type Paired,
  pairedSchema,
  type ShownCode,
  shownCodeSchema,
} from '../../shared-types/wire/pairing.ts';
import {
  type CopiedWeek,
  type CopyWeek,
  copiedWeekSchema,
  type PlanDay,
  type PlannedDay,
  plannedDaySchema,
  type WeekPlan,
  weekPlanSchema,
} from '../../shared-types/wire/plan.ts';
import {
  type Former,
  formerSchema,
  type KeepMonths,
  type Older,
  olderSchema,
  type Privacy,
  privacySchema,
  type StoredOf,
  storedOfSchema,
} from '../../shared-types/wire/privacy.ts';
import {
  type Loads,
  loadsUploadSchema,
  type ReferenceOffer,
  type ReferencesAnswer,
  type ResultsAnswer,
  type RunsAnswer,
  referencesAnswerSchema,
  resultsAnswerSchema,
  runsAnswerSchema,
} from '../../shared-types/wire/results.ts';
import {
  type SquadBefore,
  type SquadPreview,
  squadBeforeSchema,
  squadPreviewSchema,
} from '../../shared-types/wire/squad.ts';
import { type SwimmerAnswer, swimmerAnswerSchema } from '../../shared-types/wire/swimmer.ts';
import { identifySchema, type WallInfo, type WallSettings, wallInfosSchema } from '../../shared-types/wire/walls.ts';
import { type AskFailure, ask, type Reply } from '../common/ask.ts';

export type Failed = AskFailure;
export type Outcome<T> = Reply<T>;

/** A result of a swimmer's set in a run. */
export interface OfferedResult {
  readonly run: RunId;
  readonly set: number;
  readonly swimmer: SwimmerId;
  readonly offer: ReferenceOffer;
}

export interface WeeksQuestion {
  /** The seventh of the days of the last week, YYYY-MM-DD; null: today on the pool's clock. */
  readonly day: string | null;
  readonly weeks: number;
  /** Null: of the squad. */
  readonly swimmer: SwimmerId | null;
  /** Rehearsed practices count, too. */
  readonly rehearsed: boolean;
}

/** The desk's questions to the server, one a route of `shared-types/wire/`. None of them throws. */
export interface DeskServer {
  pool(): Promise<Outcome<Pool>>;
  savePool(pool: Pool): Promise<Outcome<Pool>>;
  squad(): Promise<Outcome<SquadAnswer>>;
  previewSquad(csv: string, fileName: string): Promise<Outcome<SquadPreview>>;
  /** Rows that cannot be read are left out. */
  loadSquad(csv: string, fileName: string): Promise<Outcome<SquadAnswer>>;
  squadBefore(): Promise<Outcome<SquadBefore>>;
  /** @param loadedAt of the load that is to be undone */
  undoSquad(loadedAt: number): Promise<Outcome<SquadAnswer>>;
  swimmer(id: SwimmerId, sets: number): Promise<Outcome<SwimmerAnswer>>;
  /** @param instead as the swimmer was seen; null: is new */
  saveSwimmer(swimmer: Swimmer, instead: Swimmer | null): Promise<Outcome<SquadAnswer>>;
  removeSwimmer(id: SwimmerId): Promise<Outcome<SquadAnswer>>;
  privacy(): Promise<Outcome<Privacy>>;
  savePrivacy(privacy: Privacy): Promise<Outcome<Privacy>>;
  /** What is older than so many months. */
  older(months: KeepMonths): Promise<Outcome<Older>>;
  deleteOlder(months: KeepMonths): Promise<Outcome<Older>>;
  former(): Promise<Outcome<Former>>;
  storedOf(id: SwimmerId): Promise<Outcome<StoredOf>>;
  deleteForGood(id: SwimmerId): Promise<Outcome<StoredOf>>;
  absences(): Promise<Outcome<Absences>>;
  setAbsence(swimmer: SwimmerId, isAway: boolean): Promise<Outcome<Absences>>;
  proposeLanes(question: LanesQuestion): Promise<Outcome<LanesProposal>>;
  changeLanes(changes: ChangeLanes): Promise<Outcome<SquadAnswer>>;
  preview(text: string): Promise<Outcome<Preview>>;
  practices(): Promise<Outcome<PracticeSummary[]>>;
  practice(id: PracticeId): Promise<Outcome<StoredPractice>>;
  savePractice(id: PracticeId, save: SavePractice): Promise<Outcome<StoredPractice>>;
  findPractices(query: URLSearchParams): Promise<Outcome<FoundAnswer>>;
  versions(id: PracticeId): Promise<Outcome<VersionsAnswer>>;
  practiceVersion(id: PracticeId, version: number): Promise<Outcome<StoredPractice>>;
  deletePractice(id: PracticeId): Promise<Outcome<unknown>>;
  restorePractice(id: PracticeId): Promise<Outcome<StoredPractice>>;
  putOnWall(wanted: PutOnWall): Promise<Outcome<unknown>>;
  takeOff(): Promise<Outcome<unknown>>;
  demo(): Promise<Outcome<DemoState>>;
  addDemo(): Promise<Outcome<unknown>>;
  removeDemo(): Promise<Outcome<DemoState>>;
  bringDemoBack(): Promise<Outcome<DemoRestored>>;
  /** @param before absent: from the newest on */
  runs(limit: number, before?: RunId): Promise<Outcome<RunsAnswer>>;
  results(run: RunId): Promise<Outcome<ResultsAnswer>>;
  /** @param set index into the sets of the run's sheet */
  keepLoads(run: RunId, set: number, swimmer: SwimmerId, loads: RepLoad[]): Promise<Outcome<Loads>>;
  takeOver(result: OfferedResult): Promise<Outcome<ReferencesAnswer>>;
  undoTakeOver(result: OfferedResult): Promise<Outcome<ReferencesAnswer>>;
  /** @param rehearsed also what was only rehearsed */
  setKinds(limit: number, rehearsed: boolean): Promise<Outcome<SetKindsAnswer>>;
  setHistory(signature: string, rehearsed: boolean): Promise<Outcome<SetHistoryAnswer>>;
  weeks(question: WeeksQuestion): Promise<Outcome<WeeksAnswer>>;
  /** @param from the first of the days; null: the week of today */
  weekPlan(from: string | null): Promise<Outcome<WeekPlan>>;
  planDay(day: string, planned: PlanDay): Promise<Outcome<PlannedDay>>;
  copyWeek(weeks: CopyWeek): Promise<Outcome<CopiedWeek>>;
  setWall(device: DeviceId, settings: WallSettings): Promise<Outcome<WallInfo[]>>;
  forgetWall(device: DeviceId): Promise<Outcome<WallInfo[]>>;
  identifyWall(device: DeviceId): Promise<Outcome<unknown>>;
  ownAccess(): Promise<Outcome<Paired>>;
  devices(): Promise<Outcome<DevicesAnswer>>;
  endDevice(id: PairedId): Promise<Outcome<DevicesAnswer>>;
  showCode(access: Access): Promise<Outcome<ShownCode>>;
  hideCode(): Promise<Outcome<unknown>>;
}

const referencePath = ({ run, set, swimmer, offer }: OfferedResult): string =>
  `/api/runs/${run}/references/${set}/${swimmer}/${offer.id}`;
const flag = (isSo: boolean): string => (isSo ? '1' : '0');

export const deskServer: DeskServer = {
  pool: () => ask(poolAnswerSchema, 'GET', '/api/pool'),
  savePool: (pool) => ask(poolAnswerSchema, 'PUT', '/api/pool', pool),
  squad: () => ask(squadAnswerSchema, 'GET', '/api/squad'),
  previewSquad: (csv, fileName) => ask(squadPreviewSchema, 'POST', '/api/preview/squad', { csv, fileName }),
  loadSquad: (csv, fileName) => ask(squadAnswerSchema, 'PUT', '/api/squad', { csv, fileName, leaveOutBadRows: true }),
  squadBefore: () => ask(squadBeforeSchema, 'GET', '/api/squad/before'),
  undoSquad: (loadedAt) => ask(squadAnswerSchema, 'POST', '/api/squad/undo', { loadedAt }),
  swimmer: (id, sets) => ask(swimmerAnswerSchema, 'GET', `/api/squad/swimmers/${id}?limit=${sets}`),
  saveSwimmer: (swimmer, instead) =>
    ask(squadAnswerSchema, 'PUT', `/api/squad/swimmers/${swimmer.id}`, { swimmer, instead }),
  removeSwimmer: (id) => ask(squadAnswerSchema, 'DELETE', `/api/squad/swimmers/${id}`),
  privacy: () => ask(privacySchema, 'GET', '/api/squad/privacy'),
  savePrivacy: (privacy) => ask(privacySchema, 'PUT', '/api/squad/privacy', privacy),
  older: (months) => ask(olderSchema, 'GET', `/api/squad/older?months=${months}`),
  deleteOlder: (months) => ask(olderSchema, 'DELETE', `/api/squad/older?months=${months}`),
  former: () => ask(formerSchema, 'GET', '/api/squad/former'),
  storedOf: (id) => ask(storedOfSchema, 'GET', `/api/squad/swimmers/${id}/stored`),
  deleteForGood: (id) => ask(storedOfSchema, 'DELETE', `/api/squad/swimmers/${id}/stored`),
  absences: () => ask(absencesSchema, 'GET', '/api/squad/absences'),
  setAbsence: (swimmer, isAway) => ask(absencesSchema, 'PUT', '/api/squad/absences', { swimmer, isAway }),
  proposeLanes: (question) => ask(lanesProposalSchema, 'POST', '/api/preview/lanes', question),
  changeLanes: (changes) => ask(squadAnswerSchema, 'PUT', '/api/squad/lanes', changes),
  preview: (text) => ask(previewSchema, 'POST', '/api/preview', { text }),
  practices: () => ask(z.array(practiceSummarySchema), 'GET', '/api/practices'),
  practice: (id) => ask(storedPracticeSchema, 'GET', `/api/practices/${id}`),
  savePractice: (id, save) => ask(storedPracticeSchema, 'PUT', `/api/practices/${id}`, save),
  findPractices: (query) => ask(foundAnswerSchema, 'GET', `/api/practices/search?${query}`),
  versions: (id) => ask(versionsAnswerSchema, 'GET', `/api/practices/${id}/versions`),
  practiceVersion: (id, version) => ask(storedPracticeSchema, 'GET', `/api/practices/${id}?version=${version}`),
  deletePractice: (id) => ask(deletedAnswerSchema, 'DELETE', `/api/practices/${id}`),
  restorePractice: (id) => ask(storedPracticeSchema, 'POST', `/api/practices/${id}/restore`),
  putOnWall: (wanted) => ask(liveRunSchema, 'POST', '/api/runs', wanted),
  takeOff: () => ask(liveRunSchema, 'DELETE', '/api/runs/live'),
  demo: () => ask(demoStateSchema, 'GET', '/api/demo'),
  addDemo: () => ask(demoAnswerSchema, 'POST', '/api/demo'),
  removeDemo: () => ask(demoStateSchema, 'DELETE', '/api/demo'),
  bringDemoBack: () => ask(demoRestoredSchema, 'POST', '/api/demo/restore'),
  runs: (limit, before) =>
    ask(runsAnswerSchema, 'GET', `/api/runs?limit=${limit}${before === undefined ? '' : `&before=${before}`}`),
  results: (run) => ask(resultsAnswerSchema, 'GET', `/api/runs/${run}/results?role=desk`),
  keepLoads: (run, set, swimmer, loads) =>
    ask(loadsUploadSchema, 'PUT', `/api/runs/${run}/loads/${set}/${swimmer}`, { loads }),
  takeOver: (result) => ask(referencesAnswerSchema, 'PUT', referencePath(result), { timeMs: result.offer.timeMs }),
  undoTakeOver: (result) => ask(referencesAnswerSchema, 'DELETE', referencePath(result)),
  setKinds: (limit, rehearsed) =>
    ask(setKindsAnswerSchema, 'GET', `/api/history/sets?limit=${limit}&rehearsed=${flag(rehearsed)}`),
  setHistory: (signature, rehearsed) =>
    ask(
      setHistoryAnswerSchema,
      'GET',
      `/api/history/set?signature=${encodeURIComponent(signature)}&rehearsed=${flag(rehearsed)}`,
    ),
  weeks: ({ day, weeks, swimmer, rehearsed }) => {
    const of = `${day === null ? '' : `&day=${day}`}${swimmer === null ? '' : `&swimmer=${swimmer}`}`;
    return ask(weeksAnswerSchema, 'GET', `/api/history/weeks?weeks=${weeks}${of}&rehearsed=${flag(rehearsed)}`);
  },
  weekPlan: (from) => ask(weekPlanSchema, 'GET', `/api/plan${from === null ? '' : `?from=${from}`}`),
  planDay: (day, planned) => ask(plannedDaySchema, 'PUT', `/api/plan/${day}`, planned),
  copyWeek: (weeks) => ask(copiedWeekSchema, 'POST', '/api/plan/copy', weeks),
  setWall: (device, settings) => ask(wallInfosSchema, 'PUT', `/api/walls/${device}`, settings),
  forgetWall: (device) => ask(wallInfosSchema, 'DELETE', `/api/walls/${device}`),
  identifyWall: (device) => ask(identifySchema, 'POST', `/api/walls/${device}/identify`),
  ownAccess: () => ask(pairedSchema, 'GET', '/api/access'),
  devices: () => ask(devicesSchema, 'GET', '/api/devices'),
  endDevice: (id) => ask(devicesSchema, 'DELETE', `/api/devices/${id}`),
  showCode: (access) => ask(shownCodeSchema, 'POST', '/api/pairing', { access }),
  hideCode: () => ask(endedSchema, 'DELETE', '/api/pairing'),
};
