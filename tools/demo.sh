#!/usr/bin/env bash
# The main job on the sample pictures: two camera cards become condition reports. Installs what is missing, builds, makes
# a job book in demo/, and says where everything is. Quick when run again.
set -euo pipefail
cd "$(dirname "$0")/.."
tools/packages.sh build
tools/build.sh release stripbook | tail -n 1

stripbook=build/release/tools/stripbook/stripbook
rm -rf demo
echo
echo "== A job book for the railcar, and the parts list"
"$stripbook" start demo/petrel --code PET --title "Inspection railcar Petrel"
"$stripbook" parts import sample_images/parts.csv --book demo/petrel
echo
echo "== Tags for the parts and scale markers, to print; those in the sample photos are known to be exact"
"$stripbook" tags --unprinted --book demo/petrel
"$stripbook" markers bench pocket --book demo/petrel
"$stripbook" markers measured bench --exact --book demo/petrel
"$stripbook" markers measured pocket --exact --book demo/petrel
echo
echo "== Two camera cards come in, with a second copy"
# Exit status 1 says that something needs a person: no failure.
"$stripbook" dump sample_images/card-fv20 sample_images/card-pocket --book demo/petrel --second demo/second-disk ||
    [ $? -eq 1 ]
echo
echo "== At refitting: how did the axlebox cover sit?"
"$stripbook" find axlebox cover --book demo/petrel
echo
echo "== Condition reports"
"$stripbook" report --all --book demo/petrel
"$stripbook" report --job --book demo/petrel
echo
echo "The job book is in     $PWD/demo/petrel"
echo "The condition reports  $PWD/demo/petrel/reports/PET-*.pdf, the whole job: $PWD/demo/petrel/reports/job.pdf"
echo "Tags and markers       $PWD/demo/petrel/reports/tags-0001.pdf, marker-*.pdf"
echo "The program            $PWD/$stripbook --help"
