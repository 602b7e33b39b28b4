#!/usr/bin/env bash
# Installs the Debian 12 packages that are missing. Usage: tools/packages.sh build|test
# Works as root and with sudo; asks nothing and needs no network once everything is in.
set -euo pipefail

build=(g++ cmake ninja-build ccache pkg-config git
    libopencv-dev libapriltag-dev libzxing-dev libjpeg62-turbo-dev libexiv2-dev libheif-dev
    libssl-dev libsqlite3-dev libsqlitecpp-dev libcsv-dev libhpdf-dev libqpdf-dev icc-profiles-free libcli11-dev libfmt-dev
    nlohmann-json3-dev libutf8proc-dev libceres-dev libhowardhinnant-date-dev tzdata fonts-dejavu-core)
# What the tests look with: independent tools, and other people's photographs.
test=(catch2 zbar-tools poppler-utils qpdf exiv2 sqlite3 clang-format clang-tidy
    libimage-exiftool-perl imagemagick libheif-examples libavif-bin zint libjpeg-turbo-progs
    openjdk-17-jre-headless libpdfbox2-java libactivation-java libjaxb-api-java img2pdf
    locales util-linux fontconfig time golang-github-rwcarlsen-goexif-dev opencv-doc)

case "${1:-build}" in
    build) wanted=("${build[@]}") ;;
    test) wanted=("${build[@]}" "${test[@]}") ;;
    *) echo "usage: tools/packages.sh build|test" >&2; exit 2 ;;
esac

missing=()
for package in "${wanted[@]}"; do
    state=$(dpkg-query -W -f '${db:Status-Status}' "$package" 2>/dev/null || true)
    [ "$state" = installed ] || missing+=("$package")
done
[ ${#missing[@]} -eq 0 ] && exit 0

echo "Installing ${#missing[@]} Debian packages: ${missing[*]}"
as_root=()
if [ "$(id -u)" -ne 0 ]; then
    command -v sudo >/dev/null || { echo "run this as root, or install sudo, to install: ${missing[*]}" >&2; exit 3; }
    as_root=(sudo)
fi
"${as_root[@]}" apt-get update -q
"${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get install -y -q --no-install-recommends "${missing[@]}"
