# Sourced by tests/run and seed_demo/start, from the project's root: makes an environment from
# locked lists, or keeps the one that was made from the same lists before.

stop() {
  printf '%s\n' "$@" >&2
  exit 1
}

# Sets `python`. PYTHON chooses another interpreter than python3.
find_python() {
  python=${PYTHON:-python3}
  command -v "$python" >/dev/null ||
    stop "There is no $python here. Chockbook needs Python 3.11 or newer." \
      "On Debian: apt-get install python3 python3-venv"
  "$python" -c 'import sys; sys.exit(sys.version_info < (3, 11))' ||
    stop "$("$python" --version 2>&1) is too old. Chockbook needs Python 3.11 or newer." \
      "Name a newer one with PYTHON=/path/to/python3.11 in front of the command."
  "$python" -c 'import ensurepip, venv' 2>/dev/null ||
    stop "$("$python" --version) here cannot make environments: its venv module is not complete." \
      "On Debian: apt-get install python3-venv"
}

# fingerprint FILE...: of the files, the interpreter and this folder (environments cannot be moved).
fingerprint() {
  "$python" - "$@" <<'PYTHON_CODE'
import hashlib, os, pathlib, sys
parts = [sys.version, os.getcwd(), *(pathlib.Path(name).read_text() for name in sys.argv[1:])]
print(hashlib.sha256("\0".join(parts).encode()).hexdigest())
PYTHON_CODE
}

# make_environment FOLDER LOCK...: afterwards FOLDER/bin/python has exactly what the locks list.
# Nothing is looked for beyond them: a release newer than a lock must not be met on the way.
make_environment() {
  local folder=$1 made_from
  shift
  made_from=$(fingerprint "$@") || stop "The locked lists could not be read."
  if [ "$(cat "$folder/made-from" 2>/dev/null)" = "$made_from" ] && "$folder/bin/python" -c '' 2>/dev/null; then
    return
  fi
  printf '%s\n' "Setting up $folder from the locked list (about a minute, only this once)."
  rm -rf "$folder"
  "$python" -m venv "$folder" || stop "The environment $folder could not be made."
  "$folder/bin/python" -m pip --disable-pip-version-check install --quiet --quiet --no-input --no-deps --require-hashes \
    "${@/#/--requirement=}" ||
    stop "The locked packages could not be installed. Check the network, then run this again."
  printf '%s\n' "$made_from" >"$folder/made-from"
}

# install_project FOLDER: the checkout itself, editable; again when pyproject.toml has changed.
install_project() {
  local made_from
  made_from=$(fingerprint pyproject.toml) || stop "pyproject.toml could not be read."
  [ "$(cat "$1/project-made-from" 2>/dev/null)" = "$made_from" ] && return
  "$1/bin/python" -m pip --disable-pip-version-check install --quiet --quiet --no-input --no-deps --no-index \
    --no-build-isolation --editable . || stop "The project could not be installed into $1."
  printf '%s\n' "$made_from" >"$1/project-made-from"
}
