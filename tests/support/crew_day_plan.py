"""A plan file as a lead writes it, small enough to read: a hose, coolant, a fuel line, a battery, one gate."""

from __future__ import annotations

PLAN = """\
format: yokemate-plan/1
name: Crew day
manual: {title: Build manual, revision: A}
stages: [{id: S1, name: Engine bay}]
zones: [{id: bay, name: Engine bay}, {id: floor, name: Underneath}]
skills: [{id: brakes, say: Brakes}]
loose_ends:
- {id: hose, what: Top hose, kind: opened, gate: crank}
gates:
- id: crank
  name: First crank
  kind: first_crank
  standing: [{task_closed: hoses}, {loose_ends_closed: true}]
  on_the_day: [Fire extinguisher at hand]
  guards: [turn]
tasks:
- id: hoses
  title: Fit the top hose
  stage: S1
  zone: bay
  minutes: [10, 20, 40]
  steps:
  - {id: off, say: Take the cap off., kind: open, opens: [hose]}
  - {id: push, say: Push the hose on.}
  - {id: clamp, say: Clamp it., kind: put_back, puts_back: [hose]}
- id: fill
  title: Fill with coolant
  stage: S1
  zone: bay
  minutes: [10, 20, 40]
  after: [{task: hoses}]
  steps: [{id: fill, say: Fill it.}]
- id: line
  title: Run the fuel line
  stage: S1
  zone: floor
  minutes: [30, 60, 90]
  better_people: 2
  hazards: [under_car]
  steps: [{id: clip, say: Clip it up.}]
- id: battery
  title: Connect the battery
  stage: S1
  zone: bay
  minutes: [5, 10, 15]
  hazards: [live_battery]
  steps: [{id: on, say: Put the leads on.}]
- id: turn
  title: Turn it over
  stage: S1
  zone: bay
  minutes: [5, 10, 20]
  hazards: [cranking]
  after: [{task: fill}]
  steps: [{id: turn, say: Turn it over by the key.}]
"""
