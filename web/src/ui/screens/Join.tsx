/** Joining by a scanned invite: the code is in the address's fragment, which is never sent by itself. */

import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { start } from "../../app/session";
import { go } from "../go";
import { looks, setLooks } from "../looks";
import { NewPin, NOTHING_TYPED, newPinTrouble } from "../NewPin";
import { OneQuestion } from "../OneQuestion";
import { PlainNotice } from "../PlainNotice";
import { Button, Choice, RefusalPanel, TextField } from "../parts";
import { usePost } from "../usePost";

interface Look {
  build: string;
  by: string;
  role: string;
  mode: string;
  device_only: boolean;
  sets_pin: boolean;
  lifts: boolean;
}

export default function Join(): JSX.Element {
  const [code] = useState(() => decodeURIComponent(location.hash.slice(1)));
  const [look, setLook] = useState<Look | null>(null);
  const [page, setPage] = useState(0);
  const [name, setName] = useState("");
  const [typed, setTyped] = useState(NOTHING_TYPED);
  const [limit, setLimit] = useState("");
  const [guideline, setGuideline] = useState<"25" | "16" | undefined>(undefined);
  const post = usePost();

  useEffect(() => {
    void post.send<Look>("POST", "/api/invites/look", { code }).then(setLook);
  }, [code]);

  if (!look) {
    return (
      <main id="main" class="one-question stack">
        <h1>Joining</h1>
        {post.problem ? (
          <RefusalPanel sentence={post.problem.detail} remedy={post.problem.way_on} />
        ) : (
          <p role="status">Looking at the invite</p>
        )}
      </main>
    );
  }

  async function join(withLimit: boolean): Promise<void> {
    const joined = await post.send(
      "POST",
      "/api/join",
      {
        code,
        name: look?.device_only ? look.by : name,
        pin: typed.pin,
        ...(withLimit && limit.trim() ? { limit_kg: limit.trim().replace(",", ".") } : {}),
        ...(withLimit && guideline ? { guideline_kg: Number(guideline) } : {}),
      },
      (why) => {
        if (why.field === "name") setPage(0); // where it is mended
      },
    );
    if (joined === null) return;
    await start();
    go("/", { replace: true }); // the code in the address is used up
  }

  if (look.sets_pin) {
    // Whether they lead is the service's to judge: it says how long a PIN must be.
    return (
      <OneQuestion
        title={`A new PIN for ${look.by}`}
        said={`For ${look.build}. It takes the place of the old one. Nobody can read it back.`}
        next="Set it"
        busy={post.busy}
        problem={post.problem}
        blocked={newPinTrouble(typed, "")}
        onNext={() => void join(false)}
      >
        <NewPin label="New PIN" typed={typed} onType={setTyped} />
      </OneQuestion>
    );
  }

  if (look.device_only) {
    return (
      <OneQuestion
        title={`Another phone of ${look.by}'s`}
        said={`For ${look.build}. Your own PIN lets this phone in; nobody else's does.`}
        next="Let this phone in"
        busy={post.busy}
        problem={post.problem}
        blocked={typed.pin ? undefined : "type your PIN"}
        onNext={() => void join(false)}
      >
        <TextField
          label="Your PIN"
          kind="password"
          value={typed.pin}
          onType={(pin) => setTyped({ ...typed, pin })}
          autocomplete="current-password"
        />
      </OneQuestion>
    );
  }

  const pages = [
    <OneQuestion
      key="name"
      title={`${look.by} invites you to ${look.build} as ${look.role}`}
      said="Your name, as the crew calls you."
      next="Go on"
      blocked={name.trim() ? undefined : "type your name"}
      problem={post.problem?.field === "name" ? post.problem : null}
      onNext={() => {
        post.clear();
        setPage(1);
      }}
    >
      <TextField label="Your name" value={name} onType={setName} maxLength={60} autocomplete="name" />
      <Choice
        legend="This phone"
        row
        chosen={looks.value.theme}
        onChoose={(theme) => setLooks({ theme })}
        options={[
          { key: "dark", word: "Dark" },
          { key: "light", word: "Light" },
        ]}
      />
      <PlainNotice />
    </OneQuestion>,
    <OneQuestion
      key="pin"
      title="Your PIN"
      said="You sign with it. Nobody can read it back."
      next={look.lifts ? "Go on" : "Join the crew"}
      busy={post.busy}
      problem={post.problem}
      blocked={newPinTrouble(typed, look.role)}
      onNext={() => (look.lifts ? setPage(2) : void join(false))}
      onBack={() => setPage(0)}
    >
      <NewPin
        label={look.role === "lead" ? "PIN, eight digits or more, or a phrase" : "PIN, six digits or more"}
        typed={typed}
        onType={setTyped}
      />
    </OneQuestion>,
    <OneQuestion
      key="limit"
      title="What you lift"
      said="Only you see this. To others, a place that does not suit you reads like one you did not take."
      next="Join the crew"
      busy={post.busy}
      problem={post.problem}
      blocked={
        limit.trim() && !/^\d{1,3}([.,]\d)?$/.test(limit.trim())
          ? "type a number of kg, such as 15"
          : undefined
      }
      onNext={() => void join(true)}
      onBack={() => setPage(1)}
    >
      <TextField label="At most, in kg (may stay empty)" value={limit} onType={setLimit} />
      <Choice
        legend="Which published guideline figure suits you?"
        chosen={guideline}
        onChoose={setGuideline}
        options={[
          { key: "25", word: "25 kg", second: "the figure the guidance prints for men" },
          { key: "16", word: "16 kg", second: "the figure it prints for women" },
        ]}
      />
      <p class="field-help">Not said, places in a lift are judged for 16 kg. You can say it later.</p>
      <Button label="Skip" onPress={() => void join(false)} />
    </OneQuestion>,
  ];
  return pages[page] ?? <p role="alert">This page went missing.</p>;
}
