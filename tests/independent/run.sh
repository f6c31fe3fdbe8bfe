#!/bin/sh
# Compares the kernel with independent Python on seeded random setups.
# FEEDS_PYTHON names a Python with numpy and scipy.
set -eu
: "${FEEDS_PYTHON:?name a Python that has numpy and scipy}"
cd "$(dirname "$0")/../.."
exec cargo test --locked -p tests --test independent loads -- --ignored "$@"
