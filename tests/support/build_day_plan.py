"""The plan of a whole build day, small enough to read: a lift, mounts that are run in, critical bolts, a hose, a gate."""

from __future__ import annotations

PLAN = """\
format: yokemate-plan/1
name: Build day
manual: {title: Build manual, revision: A}
stages: [{id: S1, name: Frame and body}]
zones: [{id: bay, name: Frame bay}, {id: front, name: Engine bay}]
specs:
- id: J1
  thread: M10x1.5
  property_class: "8.8"
  lubrication: dry zinc
  target: {torque: 44, unit: n_m}
  tolerance: {minus: 2, plus: 2}
  passes_percent: [50, 100]
  source: build manual table A
  page: A-1
groups:
- id: mount
  name: Engine mount left
  spec: J1
  layout: line
  seen_from: the left
  up: nose
  fasteners: [{n: 1, x: 0, y: 0}, {n: 2, x: 80, y: 0}]
- id: hoop-foot
  name: Roll hoop foot left
  spec: J1
  layout: rectangle
  seen_from: above
  up: nose
  critical: true
  countersign: true
  check_methods: [watched, torque_wrench_again]
  fasteners: [{n: 1, x: -60, y: 60}, {n: 2, x: 60, y: 60}, {n: 3, x: 60, y: -60}, {n: 4, x: -60, y: -60}]
loose_ends:
- {id: hose, what: Top hose, kind: opened, gate: crank}
- {id: mount-loose, what: Engine mount left, kind: run_in, gate: crank}
tools:
- id: W1
  name: Torque wrench 1
  torque_wrench: {unit: n_m, lowest: 10, highest: 100, step: 1, shows: click, checked_on: "CHECKED"}
- id: W2
  name: Torque wrench 2
  torque_wrench: {unit: lbf_ft, lowest: 10, highest: 100, step: 1, shows: click, checked_on: "2019-05-04"}
gates:
- id: crank
  name: First crank
  kind: first_crank
  standing: [{task_closed: hoses}, {task_closed: tight}, {critical_groups_signed: true}, {loose_ends_closed: true}]
  on_the_day: [Fire extinguisher at hand]
  guards: [turn]
lifts:
- id: L1
  title: Body shell on
  mass_kg: 84
  cg_x_mm: 800
  cg_y_mm: 0
  cg_plus_minus_mm: 20
  how_known: weighed
  supports:
  - {id: fl, say: front left, kind: lifter, x_mm: 0, y_mm: -500}
  - {id: fr, say: front right, kind: lifter, x_mm: 0, y_mm: 500}
  - {id: hook, say: engine crane behind, kind: crane, x_mm: 1290, y_mm: 0, rated_kg: 500}
  path: {length_m: 4, steps: 1}
  briefing: [Gloves on., Fingers out from under the sill.]
tasks:
- id: mounts
  title: Hang the engine on its mounts
  stage: S1
  zone: front
  minutes: [10, 20, 40]
  steps: [{id: run, say: Run the bolts in., kind: run_in, group: mount, opens: [mount-loose]}]
- id: shell
  title: Set the shell on the frame
  stage: S1
  zone: bay
  minutes: [20, 40, 60]
  after: [{task: mounts}]
  lift: L1
  hazards: [lift]
  must_people: 2
  steps: [{id: lift, say: Lift it on., kind: lift}]
- id: hoop
  title: Bolt down the roll hoop
  stage: S1
  zone: bay
  minutes: [10, 20, 40]
  after: [{task: shell}]
  steps:
  - {id: offer, say: Offer the hoop up.}
  - {id: torque, say: Tighten the left foot., kind: tighten, group: hoop-foot}
- id: tight
  title: Tighten the engine mounts
  stage: S1
  zone: front
  minutes: [10, 20, 40]
  after: [{task: shell}]
  steps: [{id: torque, say: Tighten them., kind: tighten, group: mount, puts_back: [mount-loose]}]
- id: hoses
  title: Fit the top hose
  stage: S1
  zone: front
  minutes: [10, 20, 40]
  steps:
  - {id: off, say: Take the cap off., kind: open, opens: [hose]}
  - {id: push, say: Push the hose on.}
  - {id: clamp, say: Clamp it., kind: put_back, puts_back: [hose]}
- id: line
  title: Run the fuel line
  stage: S1
  zone: front
  minutes: [30, 60, 90]
  better_people: 2
  hazards: [under_car]
  steps: [{id: clip, say: Clip it up.}]
- id: battery
  title: Connect the battery
  stage: S1
  zone: front
  minutes: [5, 10, 15]
  hazards: [live_battery]
  steps: [{id: "on", say: Put the leads on.}]
- id: turn
  title: Turn it over
  stage: S1
  zone: front
  minutes: [5, 10, 20]
  hazards: [cranking]
  after: [{task: hoses}]
  steps: [{id: turn, say: Turn it over by the key.}]
"""
