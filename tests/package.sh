#!/usr/bin/env bash
# Makes the Debian packages, looks at them with lintian, installs them in an empty Debian 12 and
# runs the example of the README there, builds a program against them, asks for a manual page, and
# imports the Python module.
# Usage: bash tests/package.sh    (as root: it makes a chroot)
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
source tests/packages.sh
need_packages "${build_packages[@]}" "${python_packages[@]}" dpkg-dev fakeroot lintian debootstrap

build=.build/package
mkdir -p "$build"
cmake -S . -B "$build" -DCMAKE_BUILD_TYPE=Release -DBUILD_SHARED_LIBS=ON -DWILTLINE_TESTS=OFF \
  -DWILTLINE_PYTHON=ON -DPython_EXECUTABLE=/usr/bin/python3 -DCMAKE_INSTALL_PREFIX=/usr \
  >"$build.log" 2>&1 || { cat "$build.log"; exit 1; }
cmake --build "$build" --parallel "$(nproc)" >>"$build.log" 2>&1 || { tail -n 40 "$build.log"; exit 1; }
rm -f "$build"/*.deb
(cd "$build" && cpack -G DEB) >>"$build.log" 2>&1 || { tail -n 40 "$build.log"; exit 1; }
ls -l "$build"/*.deb

# Silenced, each for its reason: the project has no mail address and no place in Debian (its upload
# rules, its bug numbers); a library that changes its interface with each minor version keeps no
# table of symbols; CPack has maintainer scripts call ldconfig beside the trigger that does.
lintian --allow-root --fail-on error,warning --suppress-tags \
  bogus-mail-host,bogus-mail-host-in-debian-changelog,bad-distribution-in-changes-file,initial-upload-closes-no-bugs,no-symbols-control-file,maintscript-calls-ldconfig \
  "$build"/*.deb

root=$(mktemp -d)
chmod 755 "$root"
trap 'umount "$root/proc" 2>/dev/null || true; rm -rf "$root"' EXIT
debootstrap --variant=minbase bookworm "$root" >>"$build.log" 2>&1
mount -t proc proc "$root/proc"
cp "$build"/*.deb "$root/tmp/"
cp -r models/gardens weather-samples tests/install "$root/tmp/"
# Nothing of this machine's environment goes in.
env -i PATH=/usr/sbin:/usr/bin:/sbin:/bin chroot "$root" bash -euc '
  export DEBIAN_FRONTEND=noninteractive
  apt-get -qq update >/dev/null
  apt-get -qq -y --no-install-recommends install /tmp/*.deb g++ cmake make pkg-config >/dev/null 2>&1
  cd /tmp
  wiltline season --garden gardens/courtyard.csv --weather weather-samples/tolvenau.csv \
    --from 2022-01-01 --to 2022-12-31 | head -n 5
  test -s /usr/share/man/man1/wiltline-season.1.gz
  g++ -std=c++20 install/main.cpp -o consumer $(pkg-config --cflags --libs wiltline)
  ./consumer
  cmake -S install -B cmake-consumer >/dev/null
  cmake --build cmake-consumer >/dev/null
  cmake-consumer/consumer
  python3 -c "
import wiltline
catalogue = wiltline.Catalogue()
garden = wiltline.read_garden(\"gardens/courtyard.csv\", catalogue)
place = wiltline.Place(wiltline.read_weather(\"weather-samples/tolvenau.csv\"), catalogue)
print(wiltline.season(garden, place)[\"watered_l\"])"'
echo "packages made, installed and used"
