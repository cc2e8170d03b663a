# Sourced by the scripts that build: installs what Debian packages are missing, and says which.
# Quiet when nothing is missing. Works as root, or as a user who may use sudo.

need_packages() {
  local missing=()
  local package
  for package in "$@"; do
    dpkg-query -W -f='${db:Status-Status}' "$package" 2>/dev/null | grep -qx installed ||
      missing+=("$package")
  done
  [ ${#missing[@]} -eq 0 ] && return 0
  local as_root=()
  if [ "$(id -u)" -ne 0 ]; then
    if ! command -v sudo >/dev/null; then
      echo "Missing Debian packages: ${missing[*]}" >&2
      echo "Install them as root, then run this again." >&2
      return 1
    fi
    as_root=(sudo)
  fi
  echo "Installing Debian packages: ${missing[*]}"
  "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get -qq -o Acquire::Retries=3 update >/dev/null &&
    "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get -qq -y --no-install-recommends \
      -o Acquire::Retries=3 install "${missing[@]}" >/dev/null
}

# TARGET: built with the tests' options in .build/tests, which $build then names.
build_for_tests() {
  need_packages "${build_packages[@]}" "${test_packages[@]}"
  build=.build/tests
  cmake -S . -B "$build" -DCMAKE_BUILD_TYPE=Release -DWILTLINE_TESTS=ON >/dev/null
  cmake --build "$build" --target "$1" --parallel "$(nproc)" >/dev/null
}

build_packages=(g++ cmake make libboost-program-options-dev libfmt-dev libfccp-dev libeigen3-dev libical-dev
  nettle-dev nlohmann-json3-dev zlib1g-dev libjs-d3)
python_packages=(pybind11-dev python3-dev python3-numpy)
test_packages=(doctest-dev doxygen libnova-dev locales git python3 python3-pytest chromium "${python_packages[@]}")
