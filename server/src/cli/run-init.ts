/** `init`: the files that a folder starts with. Nothing that is there already is touched. */
import { ok, usageError } from './exit-codes';
import firstAppliance from './first-appliance.spring';
import type { CliHost } from './run-report';
import { type Origin, workflows } from './workflows';

const appliance = 'tip-back-arm.spring';

const readme = `# Wire appliances

\`springwright check\` says whether the \`.spring\` files in this folder meet their requirements, \`springwright analyze\` what each wire does
to each tooth. All of it are estimates for design, research and teaching: a licensed practitioner decides. Keep patient data out of here.
`;

/**
 * Says of each file what became of it, then what to do next, and yields the exit code.
 * @param origin  with workflows that use Springwright from there
 */
export async function runInit(folder: string, origin: Origin | undefined, host: CliHost): Promise<number> {
  const files = [[appliance, firstAppliance], ['README.md', readme], ...(origin ? workflows(origin) : [])] as const;
  for (const [name, text] of files) {
    const path = folder === '.' ? name : `${folder.replace(/[/\\]+$/, '')}/${name}`;
    const outcome = await host.writeNewFile(path, new TextEncoder().encode(text));
    if (typeof outcome === 'object') {
      host.writeErr(`${path} ${outcome.mistake}\n`);
      return usageError;
    }
    host.writeOut(outcome === 'written' ? `${path}\n` : `${path} is there already and stays as it is\n`);
  }
  host.writeOut(`\nNow: springwright check ${folder === '.' ? '.' : folder}\n`);
  return ok;
}
