// The register of torque tools, tools.yaml: in the data folder, else the shipped demonstration.
import { z } from 'zod';

/** A day as written in YAML, with or without quotes. */
const Day = z.preprocess(
  (value) => (value instanceof Date ? value.toISOString().slice(0, 10) : value),
  z.iso.date(),
);

export const RegisteredTool = z.strictObject({
  id: z.string().trim().min(1).max(20).describe('as it is written on the tool, such as TW-03'),
  kind: z.string().describe('a kind that plans may ask for, such as torque-wrench'),
  title: z.string().optional(),
  range: z.strictObject({ min: z.number(), max: z.number(), unit: z.string() }).optional(),
  calibrated: Day.optional(),
  due: Day.optional().describe('the last day on which it may be used'),
});

export const ToolRegister = z.strictObject({ tools: z.array(RegisteredTool) });
export type RegisteredTool = z.infer<typeof RegisteredTool>;
