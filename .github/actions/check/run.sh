#!/usr/bin/env bash
# The steps of the action: `source` says which decodecheck this is, `install` builds and installs it, `check` runs it.
set -euo pipefail

here=$(cd "$(dirname "${BASH_SOURCE[0]}")/../../.." && pwd)
place="$RUNNER_TEMP/decodecheck"

interpreter() {
  if [ -x "$place/venv/bin/python" ]; then echo "$place/venv/bin/python"; else echo "$place/venv/Scripts/python.exe"; fi
}

# Lines of a text that are not empty, each one element of the array `lines`.
into_lines() {
  lines=()
  local line
  while IFS= read -r line || [ -n "$line" ]; do
    line="${line%$'\r'}"
    if [ -n "$line" ]; then lines+=("$line"); fi
  done <<< "$1"
}

case "$1" in
source)
  # compiling the lexicon takes minutes: the wheel is kept for as long as nothing in it changes
  hash=$(cd "$here" && "$PYTHON" - << 'END'
import hashlib
import pathlib

files = [pathlib.Path(name) for name in ("pyproject.toml", "README.md", "LICENSE")]
for folder in ("decodecheck", "rules"):
    files += sorted(path for path in pathlib.Path(folder).rglob("*") if path.is_file())
total = hashlib.sha256()
for path in files:
    if not {"compiled", "__pycache__"} & set(path.parts):
        total.update(path.as_posix().encode() + b"\0" + hashlib.sha256(path.read_bytes()).digest())
print(total.hexdigest())
END
  )
  echo "hash=${hash%$'\r'}" >> "$GITHUB_OUTPUT"
  ;;
install)
  "$PYTHON" -m venv "$place/venv"
  installed=$(interpreter)
  mkdir -p "$place/wheel"
  if ! compgen -G "$place/wheel/decodecheck-*.whl" > /dev/null; then
    "$installed" -m pip wheel --quiet --disable-pip-version-check --no-deps --wheel-dir "$place/wheel" "$here"
  fi
  "$installed" -m pip install --quiet --disable-pip-version-check "$place"/wheel/decodecheck-*.whl
  ;;
check)
  summary="$place/summary.md"
  mkdir -p "$place"
  rm -f "$summary"
  options=(--format github --output "markdown=$summary")
  if [ -n "${INPUT_PROGRESSION:-}" ]; then options+=("--progression=$INPUT_PROGRESSION"); fi
  if [ -n "${INPUT_STEP:-}" ]; then options+=("--step=$INPUT_STEP"); fi
  if [ -n "${INPUT_BASELINE:-}" ]; then options+=("--baseline=$INPUT_BASELINE"); fi
  if [ -n "${INPUT_CHANGED_SINCE:-}" ]; then options+=("--changed-since=$INPUT_CHANGED_SINCE"); fi
  into_lines "${INPUT_ARGUMENTS:-}"
  if [ ${#lines[@]} -gt 0 ]; then options+=("${lines[@]}"); fi
  into_lines "${INPUT_PATHS:-.}"
  if [ ${#lines[@]} -eq 0 ]; then lines=(.); fi
  code=0
  "${DECODECHECK_PYTHON:-$(interpreter)}" -m decodecheck check "${options[@]}" -- "${lines[@]}" < /dev/null || code=$?
  if [ -s "$summary" ]; then cat "$summary" >> "$GITHUB_STEP_SUMMARY"; fi
  exit "$code"
  ;;
*)
  echo "run.sh: there is no step '$1'" >&2
  exit 2
  ;;
esac
