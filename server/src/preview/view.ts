/** What the preview's page asks for, and what it is given to show. */

/** What of a document is to be shown. */
export interface PreviewParams {
  readonly uri: string;
  /** Name of the appliance; the first of the file where absent or gone. */
  readonly appliance?: string;
  /** Other appliances of the file that it is compared with, by name, and how they are drawn: laid over it where absent. */
  readonly others?: readonly string[];
  readonly layout?: 'overlay' | 'beside';
  /** mm from neutral; the working activation where absent. Clamped to the stages' range. */
  readonly activation?: number;
  /** While it moves: read off the stages around it instead of solved. */
  readonly moving?: boolean;
  /** What is drawn; the drawing's own choice where absent. */
  readonly show?: { readonly [part in DrawnPart]?: boolean };
  /** With the bending plan. */
  readonly plan?: boolean;
  /** With what becomes of the teeth from visit to visit. */
  readonly visits?: boolean;
  /** With charts of what changes with the activation. */
  readonly charts?: boolean;
  /** Parameters of the appliance as they are tried out, in their units, instead of what the text gives them. */
  readonly values?: Readonly<Record<string, number>>;
  /** That the page has for the drawing, in pixels. */
  readonly width?: number;
}
export type DrawnPart =
  | 'nominal'
  | 'passive'
  | 'neutral'
  | 'engaged'
  | 'auxiliary'
  | 'forces'
  | 'stress'
  | 'dimensions'
  | 'handles'
  | 'second';

export interface PreviewContent {
  readonly uri: string;
  readonly version: number;
  /** Names of the file's appliances, in file order. */
  readonly appliances: readonly string[];
  readonly appliance: string | undefined;
  /** True where the drawing is of an earlier, whole text. */
  readonly stale: boolean;
  /** One line instead of, or above, the drawing: why there is none, or what is wrong. */
  readonly notice: string | undefined;
  readonly activation:
    | { readonly value: number; readonly from: number; readonly to: number; readonly step: number }
    | undefined;
  /** A complete `<svg>` element: classes and presentation attributes only, no style attribute or element. */
  readonly drawing: string | undefined;
  /** Headline figures of those that are compared, where there are others. */
  readonly comparison: PreviewComparison | undefined;
  /** The numbers beside the drawing, already formatted. */
  readonly readouts: readonly PreviewReadout[];
  /** Where they were asked for: complete `<svg>` elements, each with its title. */
  readonly charts: readonly { readonly title: string; readonly svg: string }[];
  /** Parameters with a range, in written order. */
  readonly parameters: readonly PreviewParameter[];
  /** Parameters that the drawing has a handle of (`.handle`, by `data-parameter`), where handles were asked for and the text is whole. */
  readonly handles: readonly PreviewHandle[];
  /** Where it was asked for and the text is whole. */
  readonly plan: PreviewPlan | undefined;
  /** Whether the file says how the appliance is used over time. */
  readonly hasVisits: boolean;
  /** Where they were asked for, and can be followed. */
  readonly visits: PreviewVisits | undefined;
}

/** From visit to visit; tables are headings and rows of cells, the first cell of each its heading. */
export interface PreviewVisits {
  readonly summary: string;
  readonly visits: readonly (readonly string[])[];
  readonly courses: readonly (readonly string[])[];
  /** Complete `<svg>` elements over the weeks. */
  readonly charts: readonly { readonly title: string; readonly svg: string }[];
  readonly caution: string;
}

/** A parameter with a declared range; numbers in its unit. */
export interface PreviewParameter {
  readonly name: string;
  readonly value: number;
  readonly low: number;
  readonly high: number;
  /** As written, "" for a plain number. */
  readonly unit: string;
  readonly step: number;
  readonly documentation: string | undefined;
}

/** A parameter whose size can be taken hold of in the drawing; with no range declared, any value of which the size can be. */
export interface PreviewHandle extends Omit<PreviewParameter, 'low' | 'high'> {
  readonly low: number | undefined;
  readonly high: number | undefined;
  readonly kind: 'length' | 'radius' | 'angle' | 'place';
  /** mm, rad or none per unit: what a movement in the drawing is counted in. */
  readonly factor: number;
}

/** How to bend the wire: everything as it is printed. */
export interface PreviewPlan {
  readonly notes: readonly string[];
  readonly headings: readonly string[];
  /** A row for each bend, with as many cells as there are headings. */
  readonly rows: readonly (readonly string[])[];
  readonly order: readonly string[];
  readonly warnings: readonly string[];
  readonly caution: string;
  /** The wire after each step, in the order of work: complete `<svg>` elements. */
  readonly steps: readonly { readonly label: string; readonly svg: string }[];
}

/** A table with a column for each appliance. */
export interface PreviewComparison {
  readonly headings: readonly string[];
  readonly rows: readonly { readonly label: string; readonly cells: readonly string[] }[];
}

export interface PreviewReadout {
  /** Heading under which it stands, e.g. an attachment's name. */
  readonly group: string;
  readonly label: string;
  readonly value: string;
  /** In words, e.g. "intrudes". */
  readonly words: string | undefined;
}
