import { useState } from "preact/hooks";
import { Pictogram } from "../ui/drawings";
import { PICTOGRAM_KINDS } from "../ui/drawings/Pictogram";
import {
  Button,
  Choice,
  Dialog,
  MainButton,
  QrCode,
  ReasonPicker,
  RefusalPanel,
  ShadowTool,
  SignalPanel,
  SignalStrip,
  Snag,
  Stub,
  SwitchBar,
  TapeStrip,
  TextField,
  Tick,
} from "../ui/parts";
import { hazardWords } from "../ui/words/hazards";
import { nothing, type Page } from "./page";

function Signals() {
  const kinds = ["fuel_open", "lift", "pinch_crush", "paint", "unheard_of"];
  return (
    <div class="stack-wide">
      {kinds.map((kind) => (
        <SignalPanel key={kind} {...hazardWords(kind)} />
      ))}
      <div class="stack">
        {kinds.map((kind) => (
          <SignalStrip key={kind} {...hazardWords(kind)} />
        ))}
      </div>
    </div>
  );
}

function Pictograms() {
  return (
    <div class="flags">
      {PICTOGRAM_KINDS.map((kind) => (
        <figure key={kind}>
          <Pictogram kind={kind} />
          <figcaption class="t-small">{kind}</figcaption>
        </figure>
      ))}
    </div>
  );
}

function Materials() {
  return (
    <div class="stack-wide">
      <TapeStrip
        kind="Run in, NOT tight"
        what="Engine mounts run in only"
        where="Frame bay, both sides"
        restoring="Made good by T506, step 4. Ines has it."
        action={<Button label="Open T506" onPress={nothing} />}
      />
      <TapeStrip
        kind="Dropped"
        what="M8 nut"
        where="Engine bay, right of the sump"
        openedBy="Kofi, Saturday 11:20"
        stub="On this phone only"
        action={<Button label="Made good" onPress={nothing} />}
      />
      <Snag
        number="3"
        what="Boot of the left half shaft is cracked"
        where="Donor bay"
        second="Found by Kofi, Saturday. Before first drive."
      />
      <ShadowTool
        name="Torque wrench W1, 5 to 50 N·m"
        place="Board 1, row 2"
        state="in"
        shape="torque_wrench"
        second="Checked until 3 March"
      />
      <ShadowTool
        name="Torque wrench W2"
        place="Board 1, row 2"
        state="unfit"
        shape="torque_wrench"
        second="12 days past its check"
      />
      <ShadowTool
        name="15 mm socket"
        place="Board 2, row 3"
        state="out"
        shape="socket"
        second="Aled has it since 10:20"
      />
      <ShadowTool name="Engine crane, 500 kg" place="Donor bay" state="in" shape="crane" />
      <ShadowTool name="13 spanner" place="Board 2" state="out" shape="spanner" />
      <ShadowTool name="Axle stands, four" place="Frame bay" state="in" shape="stand" />
    </div>
  );
}

function Forms() {
  const [name, setName] = useState("Bram");
  const [way, setWay] = useState<string>("watched");
  const [view, setView] = useState("gate");
  const [got, setGot] = useState(true);
  return (
    <div class="stack-wide">
      <TextField label="Your name" value={name} onType={setName} help="As the crew calls you" />
      <TextField label="Bolt group" value="J99" onType={nothing} wrong="No such torque spec. Nearest: J09." />
      <TextField label="Note" value="" onType={nothing} lines />
      <Choice
        legend="How did you check?"
        chosen={way}
        onChoose={setWay}
        options={[
          { key: "watched", word: "Watched" },
          { key: "again", word: "Torque wrench again", second: "W1, 24 N·m" },
          { key: "paint", word: "Paint mark seen", blocked: "No paint on this group" },
        ]}
      />
      <Tick word="Bag 14, release bearing" second="have you got it?" ticked={got} onTick={setGot} />
      <SwitchBar
        label="Sort loose ends"
        chosen={view}
        onChoose={setView}
        options={[
          { key: "gate", word: "By gate" },
          { key: "zone", word: "By zone" },
        ]}
      />
      <RefusalPanel
        sentence="Aled took T605 at 10:41."
        remedy="Join him or take the next."
        typed="bolt 3: 24 N·m, bolt 4: 24 N·m"
      >
        <div class="pair">
          <Button label="Join" onPress={nothing} />
          <Button label="Take the next" onPress={nothing} />
        </div>
      </RefusalPanel>
      <div class="stack">
        <MainButton label="Take it" onPress={nothing} />
        <MainButton label="Lift" size={96} onPress={nothing} />
        <MainButton label="Lift" size={96} blocked="Desmond is not on" onPress={nothing} />
        <Button label="Type a reading" size={64} onPress={nothing} />
        <Button label="Holds" chosen onPress={nothing} />
        <Button label="Skip" kind="quiet" size={48} onPress={nothing} />
        <div>
          <Stub /> <Stub word="2 here" href="#" />
        </div>
      </div>
    </div>
  );
}

function Reasons() {
  const [reason, setReason] = useState<string>();
  const [note, setNote] = useState("");
  return (
    <ReasonPicker
      question="Why do you stop?"
      reasons={[
        { key: "tool", word: "A tool is missing" },
        { key: "part", word: "A part is missing or wrong" },
        { key: "hands", word: "I need another pair of hands" },
        { key: "unsure", word: "I am not sure how" },
      ]}
      chosen={reason}
      onChoose={setReason}
      note={note}
      onNote={setNote}
      confirmLabel="I am stuck"
      onConfirm={nothing}
      onLeave={nothing}
    />
  );
}

function Undo() {
  const [open, setOpen] = useState(true);
  return (
    <>
      <Button label="Open it" onPress={() => setOpen(true)} />
      <Dialog
        open={open}
        title="You undo the clamp on the top hose. This comes back:"
        onClose={() => setOpen(false)}
        foot={
          <>
            <Button label="Undo it" size={64} wide onPress={() => setOpen(false)} />
            <Button label="Leave it as it is" size={64} wide first onPress={() => setOpen(false)} />
          </>
        }
      >
        <TapeStrip
          kind="Loosened"
          what="Clamp on the top hose"
          where="Frame bay, front"
          restoring="Made good by T905"
        />
        <p>Signature crossed out: Aled, 16:20.</p>
        <p class="t-halt">Gate closes: ready to crank.</p>
      </Dialog>
    </>
  );
}

// A made-up pattern with the three corner squares; it scans to nothing.
const SQUARE = ["1111111", "1000001", "1011101", "1011101", "1011101", "1000001", "1111111"];
const MODULES = Array.from({ length: 25 }, (_, y) =>
  Array.from({ length: 25 }, (_, x) => {
    const corner = (y < 7 && (x < 7 || x > 17)) || (y > 17 && x < 7);
    if (corner) return SQUARE[y > 17 ? y - 18 : y]?.[x > 17 ? x - 18 : x] ?? "0";
    return (x * 7 + y * 11 + x * y) % 3 === 0 ? "1" : "0";
  }).join(""),
);

function Invite() {
  return <QrCode modules={MODULES} label="Invite for a helper, works once, until 18:40" />;
}

export const PANEL_PAGES: readonly Page[] = [
  { key: "signals", title: "Signal panels", Show: Signals },
  { key: "pictograms", title: "Pictograms", Show: Pictograms },
  { key: "materials", title: "Tape, chalk, shadow board", Show: Materials },
  { key: "forms", title: "Fields, choices, buttons", Show: Forms },
  { key: "reasons", title: "Reasons", Show: Reasons },
  { key: "undo", title: "Undo", Show: Undo },
  { key: "invite", title: "Invite", Show: Invite },
];
