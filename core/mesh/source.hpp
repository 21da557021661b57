// SPDX-License-Identifier: GPL-3.0-or-later
// What the readers of mesh files read from, and how they complain.
#pragma once

#include <bellmouth/mesh.hpp>

#include <bit>
#include <cstring>

namespace bellmouth::mesh {

inline constexpr std::size_t triangles_at_most = 20'000'000;
inline constexpr std::size_t bytes_at_most = 2'000'000'000;
/// Coordinates are less than this in size, so that squares and sums of them stay exact enough.
inline constexpr double coordinate_at_most = 1e12;

/// Thrown by the readers of this folder; `read` and `load` turn it into their result. Nobody else sees it.
struct Fault {
  Error error;
};

/// The bytes of a file, its name, and whom to tell how far reading is.
class Source {
public:
  Source(std::string_view bytes, const std::string& name, const Progress& progress)
      : bytes_(bytes), name_(name), progress_(progress) {}

  [[nodiscard]] std::string_view bytes() const { return bytes_; }

  /// A complaint about the file as a whole.
  [[noreturn]] void fault(std::string found, std::string accepted) const;
  /// About something with a name within the file, such as a JSON path.
  [[noreturn]] void fault_in(std::string path, std::string found, std::string accepted) const;
  /// About what stands at a byte of a binary file, counted from 0.
  [[noreturn]] void fault_at_byte(std::size_t at, std::string found, std::string accepted) const;
  /// About what stands at a byte of a text: tells line and column and quotes the line.
  [[noreturn]] void fault_in_text(std::size_t at, std::string found, std::string accepted) const;

  /// Tells how far reading is; a fault when it is not to go on.
  void reached(std::size_t at) const {
    reached_share(static_cast<double>(at) / static_cast<double>(bytes_.size()));
  }
  void reached_share(double share) const;
  /// The coordinate itself. A fault at byte `at` when it is not finite or out of all measure.
  double checked(double coordinate, std::size_t at) const {
    if (!(coordinate < coordinate_at_most && coordinate > -coordinate_at_most))
      bad_coordinate(coordinate, at);
    return coordinate;
  }

private:
  std::string_view bytes_;
  const std::string& name_;
  const Progress& progress_;

  [[noreturn]] void bad_coordinate(double coordinate, std::size_t at) const;
};

/// The fault of a reading that was told not to go on.
[[nodiscard]] Fault cancelled(const std::string& name);

/// What stands in the file, in quotation marks, made fit for one line of a message.
[[nodiscard]] std::string in_quotes(std::string_view text);

/// The number whose bytes stand at `from`, in the byte order named.
template <class Number>
[[nodiscard]] Number number_at(const char* from, std::endian order = std::endian::little) {
  std::array<char, sizeof(Number)> bytes;
  std::memcpy(bytes.data(), from, sizeof(Number));
  if (order != std::endian::native)
    for (std::size_t i = 0; i < sizeof(Number) / 2; ++i)
      std::swap(bytes[i], bytes[sizeof(Number) - 1 - i]);
  return std::bit_cast<Number>(bytes);
}

} // namespace bellmouth::mesh
