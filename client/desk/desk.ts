import { computed, effect, type ReadonlySignal, signal, untracked } from '@preact/signals';
import type { SwimmerId } from '../../shared-types/brand.ts';
import type { Link } from '../common/live.ts';
import { type AbsencesModel, createAbsences } from './absences-model.ts';
import { createDemo, type DemoModel } from './demo-model.ts';
import type { DeskServer } from './desk-server.ts';
import { createDevices, type DevicesModel } from './devices-model.ts';
import type { Drafts } from './drafts.ts';
import { createFiles, type FilesModel } from './files-model.ts';
import type { KeysModel } from './keys-model.ts';
import { createLanes, type LanesModel } from './lanes-model.ts';
import { createLibrary, type Library } from './library.ts';
import { createLibrarySearch, type LibrarySearch } from './library-search.ts';
import { createLoads, type LoadsModel } from './loads-model.ts';
import { createManuscript, type Manuscript } from './manuscript.ts';
import { metresIn } from './metres-in.ts';
import { createPlan, type PlanModel } from './plan-model.ts';
import { createPreview, type Later, type PreviewModel } from './preview-model.ts';
import { createPrivacy, type PrivacyModel } from './privacy-model.ts';
import { createQuestions, type Questions } from './questions.ts';
import { createReferences, type ReferencesModel } from './references-model.ts';
import { createResults, type ResultsModel } from './results-model.ts';
import { createSeason, type SeasonModel } from './season-model.ts';
import { createSquadFile, type SquadFileModel } from './squad-file-model.ts';
import { createSquad, type SquadModel } from './squad-model.ts';
import { createSwimmer, type SwimmerModel } from './swimmer-model.ts';
import { createToday, type TodayModel } from './today-model.ts';
import { createVersions, type VersionsModel } from './versions-model.ts';
import { createWall, type WallModel } from './wall-model.ts';
import { createWalls, type WallsModel } from './walls-model.ts';
import { createWeeks, type WeeksModel } from './weeks-model.ts';

interface Place {
  readonly line: number;
  readonly column: number;
}

/** Everything the page shows, and what can be done from it. */
export interface Desk {
  readonly link: Link;
  readonly keys: KeysModel;
  readonly questions: Questions;
  readonly manuscript: Manuscript;
  readonly library: Library;
  readonly files: FilesModel;
  readonly search: LibrarySearch;
  readonly versions: VersionsModel;
  readonly preview: PreviewModel;
  readonly squad: SquadModel;
  readonly squadFile: SquadFileModel;
  readonly lanes: LanesModel;
  readonly absences: AbsencesModel;
  readonly swimmer: SwimmerModel;
  readonly privacy: PrivacyModel;
  readonly wall: WallModel;
  readonly today: TodayModel;
  readonly walls: WallsModel;
  readonly devices: DevicesModel;
  readonly results: ResultsModel;
  readonly loads: LoadsModel;
  readonly references: ReferencesModel;
  readonly plan: PlanModel;
  readonly season: SeasonModel;
  readonly weeks: WeeksModel;
  /** True: no swimmers and no practices yet. */
  readonly isEmpty: ReadonlySignal<boolean>;
  readonly demo: DemoModel;
  /** Where the editor should put the cursor; a new object each time. */
  readonly goTo: ReadonlySignal<Place | null>;
  jumpTo(place: Place): void;
  /** Opens a blank sheet to write on. */
  writeNew(): void;
  /** Asks the server for everything, and again whenever the link comes back. */
  start(): void;
}

export interface DeskParts {
  readonly link: Link;
  readonly server: DeskServer;
  readonly drafts: Drafts;
  readonly keys: KeysModel;
  readonly later: Later;
}

export function createDesk({ link, server, drafts, keys, later }: DeskParts): Desk {
  const questions = createQuestions();
  const preview = createPreview(server, later);
  const manuscript = createManuscript(server, drafts, () => void library.reload());
  const library = createLibrary(server, drafts, manuscript);
  const squad = createSquad(server, preview.refresh);
  const search = createLibrarySearch(server, later, (text) => metresIn(text, squad.pool.value));
  const plan = createPlan(server);
  const squadFile = createSquadFile(server, squad);
  const swimmer = createSwimmer(server, squad);
  const devices = createDevices({ server, link, questions, later });
  const privacy = createPrivacy({
    server,
    questions,
    face: () => link.settings.value,
    isOwners: () => devices.own.peek()?.access === 'owner',
    deleted: swimmerDeleted,
  });
  const absences = createAbsences(server, preview.refresh);
  const wall = createWall(server, link.practice, manuscript, questions);
  const today = createToday({ server, library, manuscript, wall });
  const results = createResults(server, link, later);
  const goTo = signal<Place | null>(null);
  const demo = createDemo(server, { come: demoCame, gone: demoChanged });

  const reloadSquad = () => Promise.all([squad, squadFile, absences, swimmer, privacy].map((model) => model.reload()));

  async function reload(): Promise<void> {
    const whoIsAsking = devices.reload().then(privacy.reload);
    await Promise.all([library.reload(), reloadSquad(), demo.reload(), whoIsAsking]);
    if (library.known.value && manuscript.open.peek() === null) await library.resume();
  }

  function swimmerDeleted(id: SwimmerId): void {
    swimmer.forget(id);
    void reloadSquad().then(preview.refresh);
  }

  /** It has come or gone, here or on another desk. */
  async function demoChanged(): Promise<void> {
    await Promise.all([library.reload(), reloadSquad(), demo.reload()]);
    await library.leaveGone();
    search.reload();
    preview.refresh();
    if (plan.shown.peek()) await plan.reload();
  }

  /** The untouched blank sheet gives way to a practice of it. */
  async function demoCame(): Promise<void> {
    await demoChanged();
    const here = manuscript.open.peek();
    if (here && (here.baseVersion > 0 || manuscript.text.peek() !== '')) return;
    manuscript.close();
    await library.resume();
  }

  function followManuscript(): void {
    let lastId: string | null = null;
    effect(() => {
      const id = manuscript.open.value?.id ?? null;
      const text = manuscript.text.value;
      if (id === lastId) preview.follow(text);
      else preview.startOver(text);
      lastId = id;
    });
  }

  function reloadWhenLinked(): void {
    let wasLive = true;
    effect(() => {
      const live = link.state.value === 'live';
      if (live && !wasLive) void reload().then(preview.refresh);
      wasLive = live;
    });
  }

  /** What another desk or a deck has changed is asked for again; each change of its own comes back here, too. */
  function followChanges(): void {
    effect(() => {
      const what = link.changed.value?.what;
      if (what === 'demo') void untracked(demoChanged);
      if (what === 'practices') void library.reload().then(search.reload);
      if (what === 'squad' || what === 'pool') void reloadSquad().then(preview.refresh);
      if (what === 'plan' || what === 'practices') untracked(() => plan.shown.value && void plan.reload());
      if (what === 'devices') void devices.reload();
      if (what === 'plan' || what === 'practices') untracked(() => today.planned.value && void today.reload());
    });
  }

  function jumpTo(place: Place): void {
    goTo.value = { ...place };
  }

  return {
    link,
    keys,
    questions,
    manuscript,
    library,
    files: createFiles(server, () => library.reload().then(search.reload)),
    search,
    versions: createVersions(server, manuscript),
    preview,
    squad,
    squadFile,
    lanes: createLanes(server, squad),
    absences,
    swimmer,
    privacy,
    wall,
    today,
    walls: createWalls(server, questions),
    devices,
    results,
    loads: createLoads(server, results),
    references: createReferences(server, async () => {
      await Promise.all([results.askAgain(), squad.reload()]);
      preview.refresh();
    }),
    plan,
    season: createSeason(server),
    weeks: createWeeks(server),
    demo,
    goTo,
    isEmpty: computed(
      () => library.known.value && library.entries.value.every(isBlank) && squad.squad.value?.swimmers.length === 0,
    ),
    jumpTo,
    writeNew: () => {
      library.startNew('');
      jumpTo({ line: 1, column: 1 });
    },
    start: () => {
      followManuscript();
      followChanges();
      reloadWhenLinked();
      void reload();
    },
  };

  /** The untouched blank sheet that a first start opens does not count as a practice. */
  function isBlank({ id, savedAt }: { id: string; savedAt: number | null }): boolean {
    return savedAt === null && manuscript.open.value?.id === id && manuscript.text.value === '';
  }
}
