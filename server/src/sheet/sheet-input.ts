/** What a sheet is made of, and the words that stand on every one. */
import type { UnitPreferences } from '#core/units/format';
import type { Paper } from '#export/formats';
import type { EvaluatedAppliance } from '#model/resolved';

export interface SheetInput {
  readonly evaluated: EvaluatedAppliance;
  /** Of the appliance's file, and the file's path as it is to be shown. */
  readonly text: string;
  readonly path: string;
  readonly version: string;
  readonly paper: Paper;
  readonly card: boolean;
  /** To stand on it; none where absent, so that the same file makes the same sheet. */
  readonly date?: string;
  readonly units: UnitPreferences;
  /** mm from neutral; the working activation where absent. */
  readonly activation: number | undefined;
}

export const caution =
  "Engineering estimates for design, research and teaching, not a prescription. A licensed practitioner decides; local rules and the maker's data for the wire in hand stand above these figures.";
