/** The command line's grammar: commands, options, help and exit codes. */
import { Command, CommanderError, Option } from 'commander';
import { ok, usageError } from './exit-codes';
import type { CliHost } from './run-report';

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
    }
    command
      .description(description)
      .argument('[paths...]', 'files, and folders searched for *.spring files (default: the working directory)')
      .addOption(
        new Option('--format <format>', 'text for people, or JSON as server/report.schema.json describes it')
          .choices(['text', 'json'])
          .default('text'),
      )
      .addOption(new Option('--units <units>', 'unit of force in text').choices(['gf', 'N']).default('gf'))
      .option(
        '--bending-only',
        'leave out shear and stretch of the wire: only for comparison with sources that do so (forces come out 0.4 to 1 % higher)',
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
            format: 'text' | 'json';
            units: 'gf' | 'N';
            bendingOnly?: true;
            bands?: true;
            plan?: true;
            severity: string[];
          },
        ) => {
          const { severitiesFrom } = await import('./severity-option');
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
              format: options.format,
              units: { force: options.units },
              model: options.bendingOnly ? 'bending-only' : 'full',
              bands: options.bands === true,
              plan: options.plan === true,
              severities: severities.of,
            },
            version,
            host,
          );
        },
      );
  }
  try {
    await program.parseAsync([...args], { from: 'user' });
    return code;
  } catch (error) {
    // Commander has printed its message; asking for help or the version is no mistake.
    if (error instanceof CommanderError) return error.exitCode === 0 ? ok : usageError;
    throw error;
  }
}

const exitCodes = `
Exit codes: 0 all requirements met; 1 a requirement is missed or a file has errors; 2 wrong usage.
Results are engineering estimates for design, research and teaching, not a prescription.`;
