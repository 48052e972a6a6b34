import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { Route, Switch, useLocation } from "wouter-preact";
import { waitingCount } from "../app/outbox";
import { build, me, shutOut, started } from "../app/session";
import { lazyScreen } from "./lazyScreen";
import { Button, EmptyState, LoadingTags, RefusalPanel } from "./parts";
import Queue from "./screens/Queue"; // what most phones open on comes with the app

const Bag = lazyScreen(() => import("./screens/Bag"));
const Bench = lazyScreen(() => import("./screens/Bench"));
const Calculation = lazyScreen(() => import("./screens/Calculation"));
const Check = lazyScreen(() => import("./screens/Check"));
const Checks = lazyScreen(() => import("./screens/Checks"));
const Crew = lazyScreen(() => import("./screens/Crew"));
const DemoPick = lazyScreen(() => import("./screens/DemoPick"));
const Emergency = lazyScreen(() => import("./screens/Emergency"));
const Everything = lazyScreen(() => import("./screens/Everything"));
const FirstRun = lazyScreen(() => import("./screens/FirstRun"));
const Gate = lazyScreen(() => import("./screens/Gate"));
const Here = lazyScreen(() => import("./screens/Here"));
const Hold = lazyScreen(() => import("./screens/Hold"));
const HoursICanCome = lazyScreen(() => import("./screens/HoursICanCome"));
const Invite = lazyScreen(() => import("./screens/Invite"));
const Join = lazyScreen(() => import("./screens/Join"));
const Labels = lazyScreen(() => import("./screens/Labels"));
const Lift = lazyScreen(() => import("./screens/Lift"));
const Lifts = lazyScreen(() => import("./screens/Lifts"));
const LooseEnds = lazyScreen(() => import("./screens/LooseEnds"));
const Mine = lazyScreen(() => import("./screens/Mine"));
const NoSuchPlace = lazyScreen(() => import("./screens/NoSuchPlace"));
const Person = lazyScreen(() => import("./screens/Person"));
const Plan = lazyScreen(() => import("./screens/Plan"));
const Record = lazyScreen(() => import("./screens/Record"));
const Scan = lazyScreen(() => import("./screens/Scan"));
const Settings = lazyScreen(() => import("./screens/Settings"));
const Shed = lazyScreen(() => import("./screens/Shed"));
const Stores = lazyScreen(() => import("./screens/Stores"));
const Tablet = lazyScreen(() => import("./screens/Tablet"));
const Task = lazyScreen(() => import("./screens/Task"));
const ThisPhone = lazyScreen(() => import("./screens/ThisPhone"));
const Torque = lazyScreen(() => import("./screens/Torque"));
const Undo = lazyScreen(() => import("./screens/Undo"));

/** The code of the screen an address names is fetched while it is still being asked who is at the phone. */
export function fetchFirstScreen(path: string): void {
  if (path.startsWith("/tasks/")) Task.fetch().catch(() => undefined); // it is tried again, and told, when the screen is shown
}

/** A phone that is not let in still holds what was made on it. */
function StaysHere(): JSX.Element | null {
  const count = waitingCount.value;
  if (count === 0) return null;
  return <p>{count} not sent yet. It stays on this phone, and goes once you are let in again.</p>;
}

function Stranger(): JSX.Element {
  return (
    <main class="one-question stack" id="main">
      <h1>Yokemate</h1>
      <EmptyState sentence="This phone does not belong to a crew yet. Ask the lead for an invite, and scan it." />
      <StaysHere />
      <p>
        Was it enrolled at another address? Then ask the lead for a code for a new phone of yours. What you
        have not sent is still at the old address: open that, <i>Still on this phone</i>,{" "}
        <i>Save it as a file</i>.
      </p>
    </main>
  );
}

/** Whoever was taken off the crew, or whose day as a guest is over. */
function OnNoCrew(): JSX.Element {
  return (
    <main class="one-question stack" id="main">
      <h1>Yokemate</h1>
      <EmptyState sentence="You are on no crew here now. Ask the lead for an invite, and scan it." />
      <StaysHere />
      <Button label="Look again" size={64} wide onPress={() => location.assign("/")} />
    </main>
  );
}

const MOMENT_MS = 400;

/** What index.html shows already; only where it takes longer than a moment, that something is being fetched. */
function Opening(): JSX.Element {
  const [long, setLong] = useState(false);
  useEffect(() => {
    const after = setTimeout(() => setLong(true), MOMENT_MS);
    return () => clearTimeout(after);
  }, []);
  if (!long) {
    return (
      <main id="main" class="one-question">
        <h1>Yokemate</h1>
      </main>
    );
  }
  return (
    <main id="main">
      <h1 class="heard">Yokemate</h1>
      <LoadingTags />
    </main>
  );
}

/** Nothing of a build is shown before it is known who is at the phone. */
export function App(): JSX.Element {
  const [path] = useLocation();
  if (path === "/join") return <Join />;
  if (!started.value) return <Opening />;
  if (shutOut.value) {
    return (
      <main id="main" class="one-question stack">
        <h1>Yokemate</h1>
        <RefusalPanel sentence={shutOut.value.detail} remedy={shutOut.value.way_on} />
        <StaysHere />
        <Button label="Look again" size={64} wide onPress={() => location.assign("/")} />
      </main>
    );
  }
  if (me.value?.first_run) return <FirstRun />;
  if (!me.value?.person && me.value?.device_shared) return <Tablet />;
  if (!me.value?.person && me.value?.mode === "demo") return <DemoPick />;
  if (!me.value?.person) return <Stranger />;
  if (!build.value) return <OnNoCrew />;
  return (
    <Switch>
      <Route path="/">
        <Queue />
      </Route>
      <Route path="/queue/:person">{({ person }) => <Queue person={person} />}</Route>
      <Route path="/tasks/:id">{({ id }) => <Task key={id} id={id} />}</Route>
      <Route path="/hold/:task/:step">{({ task, step }) => <Hold task={task} step={step} />}</Route>
      <Route path="/undo/:what/:id">{({ what, id }) => <Undo what={what} id={id} />}</Route>
      <Route path="/groups/:id">{({ id }) => <Torque key={id} id={id} />}</Route>
      <Route path="/checks">
        <Checks />
      </Route>
      <Route path="/checks/:id">{({ id }) => <Check key={id} id={id} />}</Route>
      <Route path="/lifts">
        <Lifts />
      </Route>
      <Route path="/lifts/:id">{({ id }) => <Lift key={id} id={id} />}</Route>
      <Route path="/loose-ends">
        <LooseEnds />
      </Route>
      <Route path="/gates/:id">{({ id }) => <Gate key={id} id={id} />}</Route>
      <Route path="/plan">
        <Plan />
      </Route>
      <Route path="/shed">
        <Shed />
      </Route>
      <Route path="/everything">
        <Everything />
      </Route>
      <Route path="/crew">
        <Crew />
      </Route>
      <Route path="/crew/invite">
        <Invite />
      </Route>
      <Route path="/crew/me">
        <Mine />
      </Route>
      <Route path="/crew/me/hours">
        <HoursICanCome />
      </Route>
      <Route path="/crew/:person/hours">
        {({ person }) => <HoursICanCome key={person} person={person} />}
      </Route>
      <Route path="/crew/:person">{({ person }) => <Person person={person} />}</Route>
      <Route path="/stores">
        <Stores />
      </Route>
      <Route path="/bags/:id">{({ id }) => <Bag key={id} id={id} />}</Route>
      <Route path="/scan">
        <Scan />
      </Route>
      <Route path="/labels">
        <Labels />
      </Route>
      <Route path="/bench">
        <Bench />
      </Route>
      <Route path="/bench/:name">{({ name }) => <Calculation key={name} name={name} />}</Route>
      <Route path="/record">
        <Record />
      </Route>
      <Route path="/settings">
        <Settings />
      </Route>
      <Route path="/this-phone">
        <ThisPhone />
      </Route>
      <Route path="/here">
        <Here />
      </Route>
      <Route path="/make">
        <FirstRun />
      </Route>
      <Route path="/emergency">
        <Emergency />
      </Route>
      <Route>
        <NoSuchPlace />
      </Route>
    </Switch>
  );
}
