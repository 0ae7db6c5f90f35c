/** A small sound plan that uses most of the format; tests change one thing in it. All figures are made up. */
export const SAMPLE = `# A demonstration.
plan: renew-clamp
title: Renew the cooler clamp
machine: Wren 40 demonstration engine
notice: Demonstration values. The maker's current data come first.
source: made up for these tests
positions:
  side:
    names: [left, right]
    words: [side]
fluids:
  coolant:
    title: coolant
states:
  coolant-out:
    title: coolant out
    forbids: [engine-start]
  on-stands:
    title: on stands
tools:
  torque-wrench:
    title: torque wrench
options:
  with-pump: the pump is renewed too
  with-hose: the hose is renewed too
watched:
  - id: move-start
    title: Start the engine to move it
    is: engine-start
engine:
  firing-order: [1, 3, 4, 2]
steps:
  - id: cool-down
    title: Let the engine cool
    phase: make safe
    raise: {over-time: caution}
  - id: lift
    title: Set it on stands
    phase: make safe
    weight: safety-critical
    why: A vehicle that comes down kills.
    opens: [on-stands]
    hold: {release: [controller]}
  - id: drain
    title: Drain the coolant
    phase: strip
    weight: damage-critical
    why: Coolant in the bore breaks the engine.
    after: [cool-down, lift]
    waits:
      - {after: cool-down, minutes: 30, because: hot coolant scalds}
    opens: [coolant-out]
    report:
      - {kind: drained, fluid: coolant, unit: L, min: 25, max: 30}
  - id: remove-clamp
    title: Remove the clamp
    phase: strip
    each: side
    after: [drain]
    report:
      - {kind: off, part: pipe clips, count: 3}
      - {kind: code, of: trim-code, do: read, form: A9999}
  - id: fit-clamp
    title: Fit the clamp
    phase: refit
    each: side
    after: [remove-clamp]
    undoes: [check-clamp]
    report:
      - {kind: on, part: pipe clips, count: 3}
      - kind: tightening
        of: clamp bolts
        tool: torque-wrench
        stages:
          - {torque: 40}
          - {angle: 90}
      - {kind: code, of: trim-code, do: enter, form: A9999}
    time: {best: 10, likely: 15, worst: 30}
  - id: check-clamp
    title: Look over the clamp
    phase: prove
    check: [fit-clamp]
  - id: change-pump
    title: Change the pump
    phase: refit
    after: [drain]
    option: with-pump
  - id: change-hose
    title: Change the hose
    phase: refit
    after: [drain]
    option: with-hose
    report:
      - kind: clearance
        valves:
          - {valve: "1", target: 0.3, min: 0.25, max: 0.35}
  - id: fill
    title: Fill the coolant
    phase: refit
    after: [check-clamp]
    closes: [coolant-out]
    report:
      - {kind: filled, fluid: coolant, min: 25, max: 30}
  - id: wheels-down
    title: Take it off the stands
    phase: hand back
    weight: safety-critical
    why: It must not come down on anyone.
    after: [fill]
    closes: [on-stands]
`;

/** The sample with one text exchanged for another; fails where the first is not in it exactly once. */
export function changed(find: string, put: string, text = SAMPLE): string {
  const parts = text.split(find);
  if (parts.length !== 2)
    throw new Error(`"${find}" stands ${parts.length - 1} times in the sample`);
  return parts.join(put);
}

/** The line, from 1, on which the first occurrence of a text begins. */
export function lineOf(text: string, part: string): number {
  const at = text.indexOf(part);
  if (at < 0) throw new Error(`"${part}" is not in the text`);
  return text.slice(0, at).split('\n').length;
}
