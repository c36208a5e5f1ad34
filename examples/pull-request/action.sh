#!/bin/sh
# What action.yml runs: review.sh, with annotations and summary where a workflow on GitHub looks for them. The exit code goes to
# the step's output, so that the results are kept before the workflow fails.
set -eu
here=$(CDPATH='' cd -- "$(dirname -- "$0")" && pwd)
output=$RUNNER_TEMP/springwright
code=0
SPRINGWRIGHT=${SPRINGWRIGHT:-$here/../../dist/springwright.cjs} sh "$here/review.sh" "$TARGET" "$output" "$FOLDER" || code=$?
if [ -f "$output/annotations.txt" ]; then cat "$output/annotations.txt"; fi
if [ -f "$output/comment.md" ]; then cat "$output/comment.md" >>"$GITHUB_STEP_SUMMARY"; fi
echo "code=$code" >>"$GITHUB_OUTPUT"
