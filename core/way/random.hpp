// SPDX-License-Identifier: GPL-3.0-or-later
// Random numbers that are the same everywhere: xoshiro256** (Blackman and Vigna 2018) started by splitmix64.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>

namespace bellmouth::way {

class Random {
public:
  /// Streams of one seed with different numbers have nothing to do with each other.
  Random(std::uint64_t seed, std::uint64_t stream) {
    std::uint64_t x = seed * 0x9E3779B97F4A7C15U + stream * 0xD1B54A32D192ED03U;
    for (std::uint64_t& word : state_) {
      x += 0x9E3779B97F4A7C15U;
      std::uint64_t z = x;
      z = (z ^ (z >> 30U)) * 0xBF58476D1CE4E5B9U;
      z = (z ^ (z >> 27U)) * 0x94D049BB133111EBU;
      word = z ^ (z >> 31U);
    }
  }
  [[nodiscard]] std::uint64_t next() {
    const std::uint64_t result = turned(state_[1] * 5, 7) * 9, t = state_[1] << 17U;
    state_[2] ^= state_[0];
    state_[3] ^= state_[1];
    state_[1] ^= state_[2];
    state_[0] ^= state_[3];
    state_[2] ^= t;
    state_[3] = turned(state_[3], 45);
    return result;
  }
  /// From 0 to before 1.
  [[nodiscard]] double share() { return static_cast<double>(next() >> 11U) * 0x1p-53; }
  [[nodiscard]] double between(double low, double high) { return low + share() * (high - low); }
  /// One of so many, which must not be 0.
  [[nodiscard]] std::size_t below(std::size_t count) {
    return static_cast<std::size_t>(share() * static_cast<double>(count));
  }

private:
  static std::uint64_t turned(std::uint64_t x, unsigned by) { return (x << by) | (x >> (64 - by)); }
  std::array<std::uint64_t, 4> state_{};
};

} // namespace bellmouth::way
