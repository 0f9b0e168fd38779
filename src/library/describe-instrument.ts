/** One instrument told in full from its data: parts, links, faults with the notes that they take, fingerings, sources. */
import type { Content, InstrumentContent } from '../content/index.ts';
import { describeSuspect, proofsOf, treatmentOf } from '../diagnosis/index.ts';
import { fillTemplate } from '../flow/index.ts';
import { type Instrument, type Key, SOURCE_MARKS, type Touch } from '../mechanism/index.ts';
import { fingeringWords, fingerWords } from '../picture/index.ts';
import { fingeringName } from '../runs/note-names.ts';
import { toneOf } from '../runs/written-note.ts';
import type { FaultView, InstrumentDetail } from '../web/instrument-schema.ts';
import { describeOnTube, describeTube } from './describe-tube.ts';
import { effectTeller, severityTold } from './fault-effects.ts';

/**
 * Everything that is known of an instrument. Takes some tens of milliseconds; worth keeping.
 * @param content the edition, for procedures, jobs and sources
 */
export function describeInstrument(content: Content, entry: InstrumentContent): InstrumentDetail {
  const { instrument, model } = entry;
  const told = {
    ...describeWhole(instrument),
    ...describeParts(instrument),
    tube: describeTube(instrument),
    faults: describeFaults(content, entry),
    frequencies: model.knowledge.frequencies.groups.map(({ name, per100, source }) => ({
      name,
      per100,
      source: [...source],
    })),
    fingerings: instrument.fingerings.map((fingering) => ({
      id: fingering.id,
      ...pitchOf(instrument, fingering.note),
      name: fingeringName(instrument, fingering),
      kind: fingering.kind,
      register: fingering.register,
      touches: [...fingering.touches],
      words: fingeringWords(instrument, fingering),
      ...describeOnTube(instrument, fingering),
      ...sourced(fingering),
    })),
    playTest: {
      order: instrument.playTest.map(({ id }) => id),
      source: [...instrument.playTestSource],
    },
    checks: model.checks
      .filter(({ kind }) => kind !== 'play')
      .map((check) => ({
        id: check.id,
        title: check.title,
        answers: check.answers.map((answer) => ({ ...answer })),
      })),
  };
  return { ...told, sources: sourcesNamedIn(content, told) };
}

function describeWhole(instrument: Instrument) {
  const { id, name, family, clef, transposition, range } = instrument;
  return {
    id,
    name,
    family,
    clef,
    transposition: { ...transposition },
    range: { ...range },
    pitch: { lowest: pitchOf(instrument, range.lowest), highest: pitchOf(instrument, range.highest) },
    source: [...instrument.source],
  };
}

function pitchOf(instrument: Instrument, note: string) {
  const { sounding, frequency } = toneOf(instrument, note);
  return { note, sounding, frequency };
}

/** Source and remark of a part. */
function sourced({ source, remark }: { source: readonly string[]; remark?: string | undefined }) {
  return { source: [...source], remark: remark ?? null };
}

function described(part: {
  id: string;
  name: string;
  alsoCalled?: readonly string[] | undefined;
  source: readonly string[];
  remark?: string | undefined;
}) {
  return { id: part.id, name: part.name, alsoCalled: [...(part.alsoCalled ?? [])], ...sourced(part) };
}

function describeParts(instrument: Instrument) {
  return {
    vents: instrument.vents.map((vent) => ({
      ...described({ ...vent, source: [...vent.source, ...(vent.registerVent?.source ?? [])] }),
      cover: vent.cover ?? 'pad',
      rest: vent.rest,
      spring: vent.spring,
      note: vent.note,
      isRegisterVent: vent.registerVent !== undefined,
      presence: vent.presence,
    })),
    touches: instrument.touches.map((touch) => ({
      ...described(touch),
      hand: touch.hand,
      finger: touch.finger,
      where: fingerWords(touch),
      moves: describeMoves(touch),
    })),
    keys: instrument.keys.map((key) => ({
      ...described(key),
      hasSpring: key.hasSpring,
      moves: describeMoves(key),
    })),
    links: describeLinks(instrument),
    joints: instrument.joints.map(described),
    bores: instrument.bores.map((bore) => ({
      ...described(bore),
      after: bore.after ?? null,
      gathersWater: bore.gathersWater,
    })),
    causes: instrument.causes.map((cause) => ({ ...described(cause), group: cause.group })),
  };
}

function describeMoves({ moves }: Touch | Key) {
  return moves.map(({ part, action, link, when }) => ({
    part,
    action,
    link: link ?? null,
    when: when === undefined ? null : { ...when },
  }));
}

function describeLinks(instrument: Instrument) {
  return instrument.links.map((link) => {
    const { drivers, targets } = instrument.linkEnds(link.id);
    return {
      ...described(link),
      action: link.action,
      drivers: drivers.map(({ id }) => id),
      targets: targets.map(({ id }) => id),
      adjuster: link.adjuster.text,
      adjusterKind: link.adjuster.kind,
      lookAlike: link.adjuster.lookAlike ?? null,
      work: link.work,
      presence: link.presence,
    };
  });
}

function describeFaults(content: Content, { instrument, model }: InstrumentContent): FaultView[] {
  const procedures = new Map(content.flow.charts.procedures.map((chart) => [chart.procedure, chart]));
  const words = content.families.get(instrument.family)?.words ?? {};
  const effectsOf = effectTeller(instrument);
  return model.hypotheses.faults.map((fault, number) => {
    const { title, job, urgency } = describeSuspect(model, fault.id);
    const treatment = treatmentOf(model, number);
    return {
      ...fault,
      title,
      severity: severityTold(fault),
      ...effectsOf(fault),
      provedBy: proofsOf(model, number).map(({ position, answer }) => {
        const check = model.checks[position]!;
        return { check: check.id, title: check.title, answer: check.answers[answer]!.label };
      }),
      treatment:
        treatment === null
          ? null
          : {
              procedure: treatment.procedure,
              title: fillTemplate(procedures.get(treatment.procedure)!.title, words),
              adjusts: treatment.adjusts,
              source: [...treatment.source],
            },
      job: content.jobs.get(job)!.name,
      urgency: content.urgencies.get(urgency)!.name,
    };
  });
}

/** Every source that is named anywhere in a description, in the order in which it is first met. */
function sourcesNamedIn({ sources }: Content, told: object): InstrumentDetail['sources'] {
  const marks: readonly string[] = SOURCE_MARKS;
  const named = new Set<string>();
  JSON.stringify(told, (key, value) => {
    if (key === 'source') for (const id of value) named.add(id);
    return value;
  });
  return [...named]
    .filter((id) => !marks.includes(id))
    .map((id) => {
      const { author, title, year, address, read } = sources.get(id)!;
      return {
        id,
        author: author ?? null,
        title,
        year: year ?? null,
        address: address ?? null,
        read: read ?? null,
      };
    });
}
