// Which job a message belongs to, asked with a list of the open ones.
import type { Form } from './card.ts';

/** @returns undefined where no job is open: there is nothing to choose */
export const chooseJobForm = (
  jobs: readonly { readonly job: string; readonly vehicle: string; readonly technician?: string }[],
): Form | undefined =>
  jobs.length === 0
    ? undefined
    : {
        title: 'Record under a job',
        submit: 'Record',
        fields: [
          {
            name: 'job',
            label: 'Job',
            kind: 'choice',
            required: true,
            hint: 'The message is recorded there as its writer posted it.',
            choices: jobs.map(({ job, vehicle, technician }) => ({
              value: job,
              label: [`${job}, ${vehicle}`, technician].filter(Boolean).join(', '),
            })),
          },
        ],
      };
