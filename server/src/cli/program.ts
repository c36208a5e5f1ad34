/** The command line's grammar: commands, options, help and exit codes. */
import { Command, CommanderError, InvalidArgumentError, Option } from 'commander';
import { ok, usageError } from './exit-codes';
import type { CliHost, FailOn, ReportFormat } from './run-report';

const formats = {
  check: {
    description:
      'text for people; JSON as server/report.schema.json describes it; SARIF 2.1.0; Markdown for a comment; annotations for a workflow on GitHub',
    choices: ['text', 'json', 'sarif', 'markdown', 'annotations'],
  },
  analyze: {
    description: 'text for people, or JSON as server/report.schema.json describes it',
    choices: ['text', 'json'],
  },
} satisfies Record<string, { description: string; choices: ReportFormat[] }>;

/** Runs `springwright` with its arguments (without the program's name) and yields the exit code. */
export async function runCli(args: readonly string[], version: string, host: CliHost): Promise<number> {
  let code = ok;
  const program = new Command('springwright')
    .description('Checks and analyses orthodontic wire appliances written in .spring files.')
    .version(version, '--version', 'print the version')
    .helpOption('-h, --help', 'print this help')
    .exitOverride()
    .configureOutput({ writeOut: host.writeOut, writeErr: host.writeErr })
    .addHelpText('after', exitCodes);
  program
    .command('init')
    .description('start a folder: a first .spring file with comments that meets its requirements, and a README')
    .argument('[folder]', 'made where there is none', '.')
    .option(
      '--workflow <owner/name@revision>',
      'also workflows for GitHub that review pull requests, with Springwright from this repository there',
    )
    .addHelpText('after', initCodes)
    .exitOverride()
    .action(async (folder: string, { workflow }: { workflow?: string }, command: Command) => {
      const { originOf } = await import('./workflows');
      const origin = workflow === undefined ? undefined : originOf(workflow);
      if (workflow !== undefined && origin === undefined) {
        command.error(`error: --workflow takes "owner/name@revision", not "${workflow}"`);
        return;
      }
      const { runInit } = await import('./run-init');
      code = await runInit(folder, origin, host);
    });
  const commands = [
    ['check', 'say what is wrong in the files and whether their requirements are met'],
    ['analyze', 'print what each wire does to each tooth, stage by stage'],
  ] as const;
  for (const [name, description] of commands) {
    const command = program.command(name);
    if (name === 'analyze') {
      command.option(
        '--bands',
        'say how far the figures spread with alloy, section and hand bending, and what makes most of it (solves some hundred wires)',
      );
      command.option(
        '--plan',
        'say how to bend each wire: cut length, marks, each bend with its springback, order of work',
      );
      command.addOption(
        new Option('--holding <mm>', 'with --plan: wire to hold it by at each end (default: 15)').argParser(
          lengthOption,
        ),
      );
      command.addOption(
        new Option('--beak <mm>', 'with --plan: width of the beaks of the plier (default: 1)').argParser(lengthOption),
      );
    }
    command
      .description(description)
      .argument('[paths...]', pathsHelp)
      .addOption(
        new Option('--format <format>', formats[name].description).choices(formats[name].choices).default('text'),
      )
      .addOption(
        new Option('--fail-on <severity>', 'exit with 1 from findings of this severity on')
          .choices(['error', 'warning', 'information', 'hint'] satisfies FailOn[])
          .default('error'),
      )
      .addOption(new Option('--units <units>', 'unit of force in text').choices(['gf', 'N']).default('gf'))
      .option(
        '--bending-only',
        'leave out shear and stretch of the wire: only for comparison with sources that do so (forces come out 0.4 to 1 % higher)',
      )
      .option(
        '--since <revision>',
        'of the git repository: only files that say something else than there, by themselves or by a module that they use',
      )
      .option(
        '--severity <id=level>',
        'how gravely a finding is taken, by its id: error, warning, information, hint or off; may be repeated. Errors that stop the computation cannot be changed',
        (value: string, earlier: readonly string[]) => [...earlier, value],
        [],
      )
      .addHelpText('after', exitCodes)
      .exitOverride()
      .action(
        async (
          paths: string[],
          options: {
            format: ReportFormat;
            failOn: FailOn;
            since?: string;
            units: 'gf' | 'N';
            bendingOnly?: true;
            bands?: true;
            plan?: true;
            holding?: number;
            beak?: number;
            severity: string[];
          },
        ) => {
          const { severitiesFrom } = await import('./severity-option');
          const { benchOf } = await import('./bench-options');
          const severities = severitiesFrom(options.severity);
          if ('mistake' in severities) {
            command.error(`error: option '--severity <id=level>' ${severities.mistake}`);
            return;
          }
          // Loaded when needed: help, version and usage errors come at once.
          const { runReport } = await import('./run-report');
          code = await runReport(
            {
              command: name,
              paths: paths.length === 0 ? ['.'] : paths,
              since: options.since,
              format: options.format,
              failOn: options.failOn,
              units: { force: options.units },
              model: options.bendingOnly ? 'bending-only' : 'full',
              bands: options.bands === true,
              plan: options.plan ? benchOf(options) : undefined,
              severities: severities.of,
            },
            version,
            host,
          );
        },
      );
  }
  const exporting = (name: string, description: string): Command =>
    program
      .command(name)
      .description(description)
      .argument('<file>', 'a .spring file')
      .option('--appliance <name>', 'which one, where the file has several')
      .addOption(
        new Option('--activation <mm>', 'mm from neutral, nearest stage (default: the working activation)').argParser(
          millimetres,
        ),
      )
      .addOption(new Option('--units <units>', 'unit of force').choices(['gf', 'N']).default('gf'))
      .option('-o, --output <file>', 'where to write it (default: standard output)')
      .addHelpText('after', caution)
      .exitOverride();
  exporting('draw', 'write the drawing, an actual-size template, centre lines or curves of an appliance')
    .addOption(
      new Option(
        '--format <format>',
        'svg, png: the drawing with its forces; template, template-pdf: one shape at actual size, as SVG in mm or as PDF; dxf: centre lines in mm; shapes, curves: tables as CSV; json: both',
      )
        .choices(['svg', 'png', 'template', 'template-pdf', 'dxf', 'shapes', 'curves', 'json'])
        .default('svg'),
    )
    .addOption(
      new Option('--shape <shape>', 'of the template')
        .choices(['nominal', 'passive', 'neutral', 'engaged'])
        .default('passive'),
    )
    .addOption(
      new Option('--scale <factor>', 'of a PNG: pixels for each of the 960 of its width')
        .argParser(scaleOption)
        .default(2),
    )
    .action(async (path: string, options) => {
      const { runDraw } = await import('./run-export');
      code = await runDraw({ ...options, path, units: { force: options.units } }, version, host);
    });
  exporting('sheet', 'write a sheet to print as PDF: template at actual size, bending table, forces, requirements')
    .addOption(new Option('--paper <paper>', 'size of the pages').choices(['A4', 'Letter']).default('A4'))
    .option('--card', 'one page for the chair instead: how far to activate and what to look for')
    .option('--date <date>', 'a date to print on it, as it is written here (default: none)')
    .action(async (path: string, options) => {
      const { runSheet } = await import('./run-export');
      code = await runSheet(
        { ...options, path, card: options.card === true, units: { force: options.units } },
        version,
        host,
      );
    });
  program
    .command('handout')
    .description('write a page that shows a file with sliders and charts, for others to try out: no server, no network')
    .argument('<file>', 'a .spring file')
    .addOption(new Option('--units <units>', 'unit of force').choices(['gf', 'N']).default('gf'))
    .option('-o, --output <file>', 'where to write it (default: standard output)')
    .addHelpText('after', caution)
    .exitOverride()
    .action(async (path: string, options) => {
      const { runHandout } = await import('./run-export');
      code = await runHandout({ ...options, path, units: { force: options.units } }, host);
    });
  program
    .command('format')
    .description('lay out files anew: spaces, line breaks and comments in columns; the words stay')
    .argument('[paths...]', pathsHelp)
    .option('--check', 'change nothing; exit with 1 where a file is laid out otherwise')
    .addHelpText('after', formatCodes)
    .exitOverride()
    .action(async (paths: string[], options: { check?: true }) => {
      const { runFormat } = await import('./run-format');
      code = await runFormat({ paths: paths.length === 0 ? ['.'] : paths, check: options.check === true }, host);
    });
  program
    .command('compare')
    .description('say what changed between two revisions: parameters, lengths, bends, forces, requirements')
    .argument(
      '[before]',
      'a .spring file; with --revision also a folder, of which the files that changed are compared',
      '.',
    )
    .argument('[after]', 'a .spring file (default: the same, where revisions are given)')
    .option('--revision <revision>', 'of the git repository: what was before, for example HEAD~1')
    .option(
      '--baseline <folder>',
      'what was before: the figures that were written down there, of a file or of all in a folder',
    )
    .option('--update', 'with --baseline: write down the figures of what changed')
    .option('--to <revision>', 'with --revision: what is after (default: the file as it lies in the working folder)')
    .addOption(
      new Option('--format <format>', 'text for people, or Markdown for a comment')
        .choices(['text', 'markdown'])
        .default('text'),
    )
    .option('-o, --output <file>', 'where to write it (default: standard output)')
    .option(
      '--drawing <file>',
      'write a drawing of what changed (.svg or .png), both revisions to scale, where anything did',
    )
    .addOption(
      new Option('--layout <layout>', 'of the drawing: the earlier wire laid over the later, or one beside the other')
        .choices(['overlay', 'beside'])
        .default('overlay'),
    )
    .addOption(new Option('--units <units>', 'unit of force').choices(['gf', 'N']).default('gf'))
    .addHelpText('after', compareCodes)
    .exitOverride()
    .action(async (before: string, after: string | undefined, options, command: Command) => {
      const mistake = compareMistake(after, options);
      if (mistake !== undefined) {
        command.error(`error: ${mistake}`);
        return;
      }
      const { units, baseline, update, ...rest } = options;
      if (baseline !== undefined) {
        const { runBaseline } = await import('./run-baseline');
        const { format } = options;
        const request = { path: before, baseline, update: update === true, format, units: { force: units } };
        code = await runBaseline(request, version, host);
        return;
      }
      const { runCompare } = await import('./run-compare');
      code = await runCompare({ ...rest, before, after, units: { force: units } }, version, host);
    });
  program
    .command('explain')
    .description('say what a finding means, why it is told, and how to mend it')
    .argument('[id]', 'of the finding, as it stands in brackets (default: list them all)')
    .exitOverride()
    .action(async (id: string | undefined) => {
      const { runExplain } = await import('./run-explain');
      code = runExplain(id, host);
    });
  try {
    await program.parseAsync([...args], { from: 'user' });
    return code;
  } catch (error) {
    // Commander has printed its message; asking for help or the version is no mistake.
    if (error instanceof CommanderError) return error.exitCode === 0 ? ok : usageError;
    throw error;
  }
}

interface CompareOptions {
  readonly revision?: string;
  readonly to?: string;
  readonly drawing?: string;
  readonly output?: string;
  readonly baseline?: string;
  readonly update?: true;
}

function compareMistake(
  after: string | undefined,
  { revision, to, drawing, output, baseline, update }: CompareOptions,
): string | undefined {
  if (update && baseline === undefined) return '--update goes with --baseline, which says where to write';
  if (baseline !== undefined) {
    const other = after ?? revision ?? to ?? drawing ?? output;
    return other && '--baseline goes with one file or folder, and without --revision, --to, --drawing and --output';
  }
  if (to !== undefined && revision === undefined) return '--to goes with --revision, which says what was before';
  if (after === undefined && revision === undefined) return 'give two files, or one with --revision or --baseline';
  if (drawing !== undefined && !/\.(svg|png)$/.test(drawing)) {
    return `a drawing is written as .svg or .png, not as ${drawing}`;
  }
  return undefined;
}

function millimetres(text: string): number {
  const value = Number(text.replace(/ ?mm$/, ''));
  if (!Number.isFinite(value)) throw new InvalidArgumentError('Give a number of millimetres, such as 1.5.');
  return value;
}

function scaleOption(text: string): number {
  const value = Number(text);
  if (!(value > 0 && value <= 8)) throw new InvalidArgumentError('Give a factor above 0, at most 8.');
  return value;
}

function lengthOption(text: string): number {
  const value = millimetres(text);
  if (value < 0) throw new InvalidArgumentError('Give a length, not less than 0 mm.');
  return value;
}

const pathsHelp =
  'files, patterns, folders searched for *.spring files, - for standard input (default: the working directory)';

const initCodes = `
Files that are there already stay as they are.
Exit codes: 0 each file is written or there already; 2 one cannot be written, or wrong usage.`;

const compareCodes = `
Exit codes: 0 compared; 1 a requirement that was met is not any more, a figure differs from the baseline, or a file cannot be
read; 2 wrong usage.`;

const formatCodes = `
Exit codes: 0 all files are laid out; 1 one is not (--check), cannot be read or written, or holds text that is not
understood (the rest of it is laid out); 2 wrong usage.`;

const caution = `
Exit codes: 0 written; 1 the file cannot be read or computed; 2 wrong usage.
Results are engineering estimates for design, research and teaching, not a prescription. Keep patient data out of them.`;

const exitCodes = `
Exit codes: 0 all requirements met; 1 a requirement is missed, a file has errors or a finding is as grave as --fail-on; 2 wrong usage.
Results are engineering estimates for design, research and teaching, not a prescription.`;
