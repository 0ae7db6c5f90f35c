// The plan that the desk of the bench begins with: short, whole, and with a remark on each thing it shows.

export const FIRST_PLAN = `# A short plan to learn from. Change the words, look at the complaints, try messages below, save it.
# The machine is invented. Put the maker's current data in before real work.
plan: first-plan
title: Renew the cab filter
machine: an invented city bus
notice: Demonstration plan. The maker's current data, local rules and licensed practice come first.
source: demonstration value, no maker's data

# A state is what is true of the vehicle between two steps, and what must not happen meanwhile.
states:
  battery-isolated:
    title: Battery isolated
    means: Nobody starts the engine.
    forbids: [engine-start]

# What somebody might report that no step covers, but that a state may forbid.
watched:
  - id: start
    title: Start the engine
    is: engine-start
    words: [engine started, fired it up]

steps:
  - id: isolate-battery
    title: Isolate the battery
    phase: make safe
    weight: safety-critical
    why: A fan that starts by itself takes fingers.
    opens: [battery-isolated]
    words: [battery off, battery isolated]
    time: { best: 2, likely: 4, worst: 8 }

  - id: remove-filter
    title: Remove the old filter
    phase: strip
    after: [isolate-battery]
    words: [old filter out, filter out]
    time: { best: 5, likely: 8, worst: 15 }

  - id: fit-filter
    title: Fit the new filter
    phase: refit
    after: [remove-filter]
    words: [new filter in, filter fitted]
    time: { best: 5, likely: 8, worst: 15 }

  - id: connect-battery
    title: Connect the battery
    phase: prove
    after: [fit-filter]
    closes: [battery-isolated]
    words: [battery on, battery connected]
    time: { best: 2, likely: 3, worst: 6 }
`;
