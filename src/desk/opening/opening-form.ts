// The form that opens a job, filled with what a message said already.
import type { Plan } from '../../job/plan.ts';
import type { Field, Form } from '../card.ts';
import type { Workshop } from '../workshop.ts';
import type { Opening } from './parse-opening.ts';
import { checkVin } from './vin-remark.ts';

/** More boxes than this are not shown at once; the work is chosen first then. */
const MOST_OPTIONS = 10;

/** The options of the work, or of every plan where the work is not known yet; each names its plan in its value. */
const optionsField = (plans: readonly Plan[], isKnown: boolean): readonly Field[] => {
  const choices = plans.flatMap((plan) =>
    Object.entries(plan.options ?? {}).map(([name, says]) => ({
      value: `${plan.plan}/${name}`,
      label: isKnown ? says : `${plan.title}: ${says}`,
    })),
  );
  if (choices.length === 0 || (!isKnown && choices.length > MOST_OPTIONS)) return [];
  return [
    { name: 'options', label: 'What also applies', kind: 'choices', required: false, choices },
  ];
};

/**
 * @param known what is known already. Where it was typed into this form and refused, every field is given back as it
 * was typed, with what is wrong as a line of its own before the hint.
 */
export const openingForm = (workshop: Workshop, known: Opening): Form => {
  const form = blankForm(workshop, known);
  const { typed, wrong } = known;
  if (typed === undefined) return form;
  const vin = known.vin === undefined ? undefined : checkVin(known.vin);
  const says: Readonly<Record<string, string>> = { ...(vin ? { vin } : {}), ...wrong };
  return {
    ...form,
    fields: form.fields.map((field) => {
      const value = typed[field.name];
      const remark = says[field.name];
      return {
        ...field,
        ...(value === undefined || value === '' ? {} : { value }),
        ...(remark === undefined ? {} : { hint: `${remark}\n${field.hint ?? ''}` }),
      };
    }),
  };
};

const blankForm = (workshop: Workshop, known: Opening): Form => {
  const plan = known.plan === undefined ? undefined : workshop.plans.get(known.plan);
  const technicians = workshop.settings.people.filter((person) =>
    person.roles.includes('technician'),
  );
  const value = (text: string | undefined): Pick<Field, 'value'> =>
    text === undefined ? {} : { value: text };
  return {
    title: 'Open a job',
    submit: 'Open job',
    fields: [
      {
        name: 'job',
        label: 'Job number',
        kind: 'text',
        required: true,
        hint: 'Letters, digits, hyphens',
        ...value(known.job),
      },
      {
        name: 'vehicle',
        label: 'Vehicle',
        kind: 'text',
        required: true,
        hint: 'As the workshop calls it: bus 17',
        ...value(known.vehicle),
      },
      {
        name: 'plan',
        label: 'Work',
        kind: 'choice',
        required: true,
        choices: [...workshop.plans.values()].map((each) => ({
          value: each.plan,
          label: each.title,
        })),
        ...value(known.plan),
      },
      ...optionsField(plan ? [plan] : [...workshop.plans.values()], plan !== undefined),
      {
        name: 'positions',
        label: 'Positions',
        kind: 'text',
        required: false,
        hint: plan?.positions
          ? `Leave empty for all. ${Object.values(plan.positions)
              .map((set) => set.names.join(', '))
              .join('; ')}`
          : 'Leave empty for all: cylinder 3, cylinder 5',
        ...value(known.positions?.join(', ')),
      },
      {
        name: 'reading',
        label: 'Odometer or hours',
        kind: 'text',
        required: false,
        hint: '412350 km, 9120 h',
        ...value(known.reading ? `${known.reading.value} ${known.reading.unit}` : undefined),
      },
      {
        name: 'vin',
        label: 'Vehicle identification number',
        kind: 'text',
        required: false,
        hint: '17 characters',
        ...value(known.vin),
      },
      {
        name: 'complaint',
        label: 'Complaint',
        kind: 'long-text',
        required: false,
        ...value(known.complaint),
      },
      {
        name: 'technician',
        label: 'Technician',
        kind: 'choice',
        required: false,
        choices: technicians.map((person) => ({ value: person.name, label: person.name })),
        ...value(known.technician),
      },
      {
        name: 'promised',
        label: 'Promised for',
        kind: 'date-time',
        required: false,
        ...value(known.promised),
      },
    ],
  };
};
