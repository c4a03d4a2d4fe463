import type { GroupsItem, Item, Practice, RoundsItem, Section } from '../../../shared-types/practice.ts';
import type { RosterLane } from '../roster.ts';
import type { Gathering, Spot } from './context.ts';
import { expandSet } from './expand-set.ts';
import { addJoin, idOf } from './joins.ts';
import { NO_ROUNDS, type Rounds } from './rounds.ts';

/** Turns the text's tree into drafts, line after line. Problems go to the gathering's messages. */
export function expandPractice(practice: Practice, gathering: Gathering): void {
  practice.sections.forEach((section, index) => {
    const spot: Spot = { section: index, lanes: gathering.roster.lanes, rounds: NO_ROUNDS };
    addJoin(gathering, spot, section.line, 'section', false);
    expandItems(section.items, spot, section, gathering);
  });
}

function expandItems(items: readonly Item[], spot: Spot, section: Section, gathering: Gathering): void {
  for (let place = 0; place < items.length && !gathering.overLimit(); place += 1) {
    const item = items[place];
    if (item?.kind === 'groups') {
      const blocks = sideBySide(items, place, spot);
      expandBlocks(blocks, spot, section, gathering);
      place += blocks.length - 1;
    } else if (item) {
      expandItem(item, spot, section, gathering);
    }
  }
}

function expandItem(item: Exclude<Item, GroupsItem>, spot: Spot, section: Section, gathering: Gathering): void {
  switch (item.kind) {
    case 'set':
      expandSet(item, spot, section, gathering);
      break;
    case 'rounds':
      expandRounds(item, spot, section, gathering);
      break;
    case 'rest':
      addRest(gathering, spot, item.line, 'rest', item.restMs);
      break;
    case 'wait':
      addJoin(gathering, spot, item.line, 'wait', 'gate');
      break;
    case 'together':
      addJoin(gathering, spot, item.line, 'together', false);
      break;
  }
}

function addRest(gathering: Gathering, spot: Spot, line: number, reason: 'rest' | 'between', restMs: number): void {
  const id = gathering.freshId(idOf(line, spot.rounds, reason));
  for (const { lane } of spot.lanes) {
    gathering.add({ kind: 'rest', id, line, section: spot.section, lane, reason, restMs });
  }
}

function expandRounds(item: RoundsItem, spot: Spot, section: Section, gathering: Gathering): void {
  for (let round = 1; round <= item.count && !gathering.overLimit(); round += 1) {
    const nested = spot.rounds.rounds > 0;
    const rounds: Rounds = {
      outer: nested ? spot.rounds.round : 0,
      outers: nested ? spot.rounds.rounds : 0,
      round,
      rounds: item.count,
    };
    const inRound: Spot = { ...spot, rounds };
    if (item.together) addJoin(gathering, inRound, item.line, 'round', false);
    expandItems(item.items, inRound, section, gathering);
    if (item.betweenMs !== undefined && round < item.count) {
      addRest(gathering, inRound, item.line, 'between', item.betweenMs);
    }
  }
}

interface Block {
  readonly item: GroupsItem;
  readonly lanes: readonly RosterLane[];
}

function lanesOf({ who }: GroupsItem, spot: Spot): RosterLane[] {
  return spot.lanes.filter(({ lane, group }) =>
    who.kind === 'groups' ? who.groups.includes(group) : lane >= who.from && lane <= who.to,
  );
}

/** The neighbouring group blocks from `place` on; one that names a lane already taken starts anew. */
function sideBySide(items: readonly Item[], place: number, spot: Spot): Block[] {
  const blocks: Block[] = [];
  const taken = new Set<RosterLane>();
  for (let at = place; at < items.length; at += 1) {
    const item = items[at];
    if (item?.kind !== 'groups') break;
    const lanes = lanesOf(item, spot);
    if (lanes.some((lane) => taken.has(lane))) break;
    for (const lane of lanes) taken.add(lane);
    blocks.push({ item, lanes });
  }
  return blocks;
}

function expandBlocks(blocks: readonly Block[], spot: Spot, section: Section, gathering: Gathering): void {
  const line = blocks[0]?.item.line ?? 0;
  addJoin(gathering, spot, line, 'before', false);
  for (const { item, lanes } of blocks) {
    if (lanes.length > 0) expandItems(item.items, { ...spot, lanes }, section, gathering);
    else sayNobody(item, gathering);
  }
  addJoin(gathering, spot, line, 'after', false);
}

function sayNobody({ who, line, column }: GroupsItem, gathering: Gathering): void {
  const whom = who.kind === 'groups' ? `pace group ${who.groups.join(', ')}` : `lanes ${who.from}–${who.to}`;
  const text = `nobody swims these lines: the squad has no ${whom}`;
  gathering.say({ severity: 'info', code: 'note', line, column, text });
}
