// SPDX-License-Identifier: GPL-3.0-or-later
#include "choice.hpp"

#include <algorithm>
#include <cmath>

namespace bellmouth::fit {
namespace {

constexpr double enough = 2, plenty = 20;
const double enough_of_itself = std::sqrt(1 - inseparable_correlation * inseparable_correlation);

using Column = std::vector<double>;

double dot(const Column& a, const Column& b) {
  double sum = 0;
  for (std::size_t i = 0; i < a.size(); ++i)
    sum += a[i] * b[i];
  return sum;
}
double length(const Column& a) {
  return std::sqrt(dot(a, a));
}

} // namespace

Choice choose(const Matrix& slopes) {
  std::vector<Column> whole(slopes.columns, Column(slopes.rows));
  for (std::size_t i = 0; i < slopes.rows; ++i)
    for (std::size_t j = 0; j < slopes.columns; ++j)
      whole[j][i] = slopes(i, j);
  std::vector<Column> left = whole; // what the taken columns do not span

  Choice choice;
  std::vector<bool> taken(slopes.columns, false);
  while (true) {
    std::optional<std::size_t> best;
    for (std::size_t j = 0; j < left.size(); ++j) {
      const double adds = length(left[j]);
      if (!taken[j] && adds >= enough && (adds >= plenty || adds >= enough_of_itself * length(whole[j])) &&
          (!best || adds > length(left[*best])))
        best = j;
    }
    if (!best)
      break;
    taken[*best] = true;
    choice.free.push_back(*best);
    const Column direction = left[*best];
    const double square = dot(direction, direction);
    for (Column& column : left) {
      const double share = dot(direction, column) / square;
      for (std::size_t i = 0; i < direction.size(); ++i)
        column[i] -= share * direction[i];
    }
  }
  std::ranges::sort(choice.free);
  for (std::size_t j = 0; j < slopes.columns; ++j) {
    if (taken[j])
      continue;
    Choice::Left out{j, std::nullopt};
    double nearest = 0;
    for (const std::size_t k : choice.free) {
      const double cosine = std::abs(dot(whole[j], whole[k])) / (length(whole[j]) * length(whole[k]));
      if (length(whole[j]) >= enough && cosine > nearest) {
        nearest = cosine;
        out.mistaken_for = k;
      }
    }
    choice.left.push_back(out);
  }
  return choice;
}

} // namespace bellmouth::fit
