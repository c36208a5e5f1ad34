/** Workflows for GitHub that review pull requests; `examples/pull-request` explains them and holds what they use. */

/** Where Springwright itself lies on GitHub, and at which revision it is to be used. */
export interface Origin {
  /** "owner/name" */
  readonly repository: string;
  readonly revision: string;
}

/** From "owner/name@revision"; undefined where it is written otherwise. */
export function originOf(text: string): Origin | undefined {
  const [, repository, revision] = /^([\w.-]+\/[\w.-]+)@([\w./-]+)$/.exec(text) ?? [];
  return repository === undefined ? undefined : { repository, revision };
}

/** Paths below a repository, and texts. */
export function workflows(origin: Origin): readonly (readonly [path: string, text: string])[] {
  return [
    ['.github/workflows/springwright.yml', review(origin)],
    ['.github/workflows/springwright-comment.yml', comment(origin)],
  ];
}

const review = ({
  repository,
  revision,
}: Origin): string => `# Reviews the wire appliances of a pull request, from a fork too: whatever the branch holds, it has no right to write here.
name: Springwright
on:
  pull_request:
    paths: ['**.spring']
permissions:
  contents: read
jobs:
  review:
    runs-on: ubuntu-latest
    steps:
      - uses: actions/checkout@v4
        with:
          fetch-depth: 0
          persist-credentials: false
      - uses: ${repository}/examples/pull-request@${revision}
`;

const comment = ({
  repository,
  revision,
}: Origin): string => `# Posts what the review found. It may write comments, and so runs nothing that comes from the branch: it reads one text, makes it
# harmless, and asks GitHub which pull request it is for.
name: Springwright comment
on:
  workflow_run:
    workflows: [Springwright]
    types: [completed]
permissions:
  actions: read
  pull-requests: write
concurrency:
  group: springwright-comment-\${{ github.event.workflow_run.head_repository.id }}-\${{ github.event.workflow_run.head_branch }}
jobs:
  comment:
    if: github.event.workflow_run.event == 'pull_request'
    runs-on: ubuntu-latest
    steps:
      - uses: actions/download-artifact@v4
        with:
          name: springwright
          path: review
          run-id: \${{ github.event.workflow_run.id }}
          github-token: \${{ github.token }}
      - uses: ${repository}/examples/pull-request/comment@${revision}
        with:
          folder: review
`;
