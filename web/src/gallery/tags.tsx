import {
  BottomBar,
  Button,
  CallLine,
  EmptyState,
  FLAG_ORDER,
  Flag,
  Layout,
  LoadingTags,
  MainButton,
  MoreMenu,
  NoticeLine,
  Rail,
  Tag,
  type TagProps,
  TopStrip,
} from "../ui/parts";
import { nothing, type Page } from "./page";

const PLACES = [
  { key: "queue", word: "Queue", href: "#queue" },
  { key: "lifts", word: "Lifts", href: "#lift" },
  { key: "loose", word: "Loose ends", href: "#materials" },
  { key: "plan", word: "Plan", href: "#plan" },
  { key: "shed", word: "Shed", href: "#" },
];
const SHED = [
  "Crew",
  "Bags and tools",
  "Bench",
  "Book",
  "Build settings",
  "This phone",
  "Emergency card",
].map((word) => ({ key: word, word, href: "#" }));

const TAGS: readonly TagProps[] = [
  {
    number: "T605",
    state: "ready",
    title: "Exhaust manifold, downpipe and silencer",
    reason: "Saturday's lift waits for it",
    href: "#task",
    flags: [
      { kind: "hands", word: "2 pairs of hands", people: 2 },
      { kind: "danger", word: "Danger: under the car" },
      { kind: "caution", word: "Caution: cut edges" },
      { kind: "not_for_you", word: "Not for you: ask an adult" },
      { kind: "running_low", word: "Running low: hangers" },
    ],
    action: <MainButton label="Take it" onPress={nothing} />,
  },
  {
    number: "T502",
    state: "taken",
    stateWord: "you have it",
    lit: true,
    title: "Clutch inspection and new release bearing",
    reason: "Pass 1 of 2, bolt 3 of 6",
    href: "#task",
    flags: [{ kind: "torque_check", word: "Torque check" }],
    stub: "2 readings on this phone only",
    action: <MainButton label="Go on: pass 1, bolt 3 of 6" onPress={nothing} />,
  },
  {
    number: "T506",
    state: "taken",
    stateWord: "taken by Ines",
    title: "Final-torque mounts and gearbox crossmember",
    href: "#task",
  },
  {
    number: "T507",
    state: "waiting",
    title: "Accessory drive: brackets, idler, belt",
    href: "#task",
    flags: [{ kind: "waiting", word: "Waiting: T506" }],
  },
  {
    number: "T602",
    state: "stuck",
    title: "Measure and order shortened prop shaft",
    href: "#task",
    flags: [{ kind: "stuck", word: "Stuck: no 15 mm socket" }],
  },
  {
    number: "T403",
    state: "check_due",
    title: "Front uprights and ball joints",
    signedBy: ["Aled"],
    href: "#task",
    flags: [{ kind: "hold_point", word: "Hold point" }],
  },
  {
    number: "T402",
    state: "closed",
    title: "Hang front arms, pivots snug only",
    signedBy: ["Aled", "Desmond"],
    href: "#task",
  },
  {
    number: "T903",
    state: "ready_undone",
    title: "Heater box and heater hoses",
    reason: "undone by Priya, 16:50",
    href: "#task",
  },
  {
    number: "T806",
    state: "not_for_you",
    title: "First 8 L of fuel, pump prime, leak walk",
    reason: "Not for under-18s. Ask Ines for another.",
    href: "#task",
  },
  {
    number: "T904",
    state: "left_out",
    title: "Expansion tank, bleed lines, vacuum caps",
    reason: "Option: oil cooler",
    href: "#task",
  },
];

function Tags() {
  return (
    <div class="tag-list">
      {TAGS.map((tag) => (
        <Tag key={tag.number} {...tag} />
      ))}
      <LoadingTags />
    </div>
  );
}

function Flags() {
  const words: Record<string, string> = {
    danger: "Danger: under the car",
    warning: "Warning: lift",
    caution: "Caution: pinch points",
    hands: "2 pairs of hands",
    lift: "3 to lift",
    torque_check: "Torque check",
    hold_point: "Hold point",
    under_car: "Under the car: Bram",
    stuck: "Stuck: no 15 mm socket",
    waiting: "Waiting: T507",
    crossed_out: "Crossed out",
    on_phone: "On this phone only",
    not_for_you: "Not for you: ask an adult",
    running_low: "Running low",
  };
  return (
    <div class="stack">
      {FLAG_ORDER.map((kind) => (
        <Flag key={kind} kind={kind} word={words[kind] ?? kind} people={kind === "lift" ? 3 : 2} />
      ))}
      <Flag kind="lift" word="4 to lift" people={4} />
      <Flag kind="hands" word="3 pairs of hands" people={3} />
    </div>
  );
}

function strip() {
  return (
    <TopStrip
      build="Quillback Two"
      unsent={2}
      unsentHref="#"
      initials="AP"
      name="Aled Penhaligon"
      meHref="#"
    />
  );
}

function Queue() {
  const [first, mine, other, waiting] = TAGS;
  if (!first || !mine || !other || !waiting) return <p>no tags</p>;
  return (
    <Layout
      strip={strip()}
      calls={
        <>
          <CallLine sentence="Lift at 14:00: your answer is wanted" href="#" />
          <CallLine sentence="1 check waits for you" href="#" />
        </>
      }
      bar={<BottomBar places={PLACES} everythingHref="#" current="queue" />}
      rail={<Rail places={PLACES} more={SHED} current="queue" />}
    >
      <h1>Queue</h1>
      <NoticeLine>No connection since 10:32. Go on, it is kept here.</NoticeLine>
      <h2>You have taken</h2>
      <Tag {...mine} />
      <h2>Start this now</h2>
      <Tag {...first} />
      <h2>Not yet</h2>
      <div class="tag-list">
        <Tag {...other} />
        <Tag {...waiting} />
      </div>
    </Layout>
  );
}

function Opened() {
  const [first] = TAGS;
  if (!first) return <p>no tags</p>;
  return (
    <Layout
      strip={strip()}
      rail={<Rail places={PLACES} more={SHED} current="queue" />}
      detail={
        <>
          <h2 class="t-strong">T605 · ready</h2>
          <p>Exhaust manifold, downpipe and silencer</p>
        </>
      }
      detailLabel="T605"
      work={
        <>
          <MainButton label="Take it" onPress={nothing} />
          <div class="pair">
            <MoreMenu
              items={[
                { label: "Dropped or left in", onPress: nothing },
                { label: "I am stuck", onPress: nothing },
                { label: "Sign it off", onPress: nothing, blocked: "two steps are open, 4 and 6" },
              ]}
            />
            <Button label="Note" size={64} onPress={nothing} />
          </div>
        </>
      }
    >
      <h1>Queue</h1>
      <div class="tag-list">
        {TAGS.slice(1, 6).map((tag) => (
          <Tag key={tag.number} {...tag} />
        ))}
      </div>
    </Layout>
  );
}

function Nothing() {
  return (
    <EmptyState sentence="Nothing is ready for you. Three tasks wait for T409. Ask Ines, or look who wants help.">
      <Button label="Show what waits" onPress={nothing} />
    </EmptyState>
  );
}

export const TAG_PAGES: readonly Page[] = [
  { key: "tags", title: "Tags", Show: Tags },
  { key: "flags", title: "Flags", Show: Flags },
  { key: "queue", title: "Queue, a whole screen", Show: Queue, whole: true },
  { key: "opened", title: "List and opened tag", Show: Opened, whole: true },
  { key: "empty", title: "Nothing to show", Show: Nothing },
];
