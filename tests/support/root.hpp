// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

namespace bellmouth::test {

/// Where the rising function `f` passes zero, by halving the interval.
template <class Function> double root(Function f, double low, double high) {
  for (int i = 0; i < 100; ++i) {
    const double middle = 0.5 * (low + high);
    (f(middle) > 0 ? high : low) = middle;
  }
  return 0.5 * (low + high);
}

} // namespace bellmouth::test
