#!/bin/sh
# Checks the .spring files that a branch changes, and compares what it does to each wire with where it left its target.
#
#   review.sh TARGET OUTPUT [FOLDER]
#
#   TARGET   branch, tag or commit that the change is meant for, as origin/main
#   OUTPUT   folder for what is written, made where there is none
#   FOLDER   of the repository to look at (default: all of it)
#
#   SPRINGWRIGHT   the command, or its .cjs file (default: springwright)
#   FAIL_ON        error, warning, information or hint (default: error)
#
# In OUTPUT: annotations.txt, comparison.md with comparison.svg beside it where a wire changed, and comment.md, which is all of it.
# Exit codes: 0 all requirements met; 1 a finding as grave as FAIL_ON, or a requirement that was met is not any more;
# 2 wrong usage.
set -eu

if [ $# -lt 2 ] || [ $# -gt 3 ]; then
  sed -n '4,4s/^# *//p' "$0" >&2
  exit 2
fi
target=$1
output=$2
folder=${3:-.}
command=${SPRINGWRIGHT:-springwright}
fail_on=${FAIL_ON:-error}

# What the target has got since then is no change of this branch.
if ! base=$(git merge-base "$target" HEAD); then
  echo "$target and this branch have no commit in common here: fetch the whole history of both." >&2
  exit 2
fi

springwright() {
  case $command in
    *.cjs) node "$command" "$@" ;;
    *) "$command" "$@" ;;
  esac
}

worst=0
note() {
  if [ "$1" -gt "$worst" ]; then worst=$1; fi
}

mkdir -p "$output"
rm -f "$output/annotations.txt" "$output/check.md" "$output/comparison.md" "$output/comparison.svg" "$output/comment.md"
springwright check --since "$base" --fail-on "$fail_on" --format annotations "$folder" >"$output/annotations.txt" || note $?
if [ "$worst" -lt 2 ]; then
  springwright check --since "$base" --fail-on "$fail_on" --format markdown "$folder" >"$output/check.md" || note $?
  springwright compare --revision "$base" --format markdown --output "$output/comparison.md" \
    --drawing "$output/comparison.svg" "$folder" || note $?
fi
if [ "$worst" -lt 2 ]; then
  {
    cat "$output/check.md"
    printf '\n## What changed\n\n'
    cat "$output/comparison.md"
  } >"$output/comment.md"
fi
rm -f "$output/check.md"
exit "$worst"
