// SPDX-License-Identifier: GPL-3.0-or-later
#include "gltf_buffers.hpp"

#include "readers.hpp"

#include <algorithm>

namespace bellmouth::mesh {

namespace {

/// The value of a digit of base 64 (RFC 4648, table 1); -1 for anything else.
int base64_digit(char c) {
  if (c >= 'A' && c <= 'Z')
    return c - 'A';
  if (c >= 'a' && c <= 'z')
    return c - 'a' + 26;
  if (c >= '0' && c <= '9')
    return c - '0' + 52;
  return c == '+' ? 62 : c == '/' ? 63 : -1;
}

std::optional<std::string> from_base64(std::string_view digits) {
  while (digits.ends_with('='))
    digits.remove_suffix(1);
  std::string bytes;
  bytes.reserve(digits.size() / 4 * 3 + 2);
  std::uint32_t bits = 0;
  int ready = 0;
  for (const char c : digits) {
    const int digit = base64_digit(c);
    if (digit < 0)
      return std::nullopt;
    bits = bits << 6U | static_cast<std::uint32_t>(digit);
    ready += 6;
    if (ready >= 8) {
      ready -= 8;
      bytes += static_cast<char>(bits >> ready & 0xFFU);
    }
  }
  if (digits.size() % 4 == 1)
    return std::nullopt;
  return bytes;
}

int hexadecimal_digit(char c) {
  if (c >= '0' && c <= '9')
    return c - '0';
  if (c >= 'a' && c <= 'f')
    return c - 'a' + 10;
  return c >= 'A' && c <= 'F' ? c - 'A' + 10 : -1;
}

/// "a%20b" is "a b" (RFC 3986, section 2.1).
std::optional<std::string> percent_decoded(std::string_view uri) {
  std::string result;
  for (std::size_t i = 0; i < uri.size(); ++i) {
    if (uri[i] != '%') {
      result += uri[i];
      continue;
    }
    if (i + 2 >= uri.size())
      return std::nullopt;
    const int high = hexadecimal_digit(uri[i + 1]), low = hexadecimal_digit(uri[i + 2]);
    if (high < 0 || low < 0)
      return std::nullopt;
    result += static_cast<char>(high * 16 + low);
    i += 2;
  }
  return result;
}

std::size_t component_size(const Asked& component_type) {
  switch (component_type.whole()) {
  case 5120: // signed byte
  case 5121:
    return 1;
  case 5122: // short
  case 5123:
    return 2;
  case 5125: // unsigned int
  case 5126: // float
    return 4;
  default:
    component_type.fault("5120, 5121, 5122, 5123, 5125 or 5126");
  }
}

constexpr const char* own_files = "the name of a file in the folder of the glTF file or below it";

} // namespace

Row Buffers::row(const Asked& accessor, std::string_view type) {
  if (const auto sparse = accessor.find("sparse"))
    sparse->fault("a sparse accessor", "accessors that hold all their values");
  if (const Asked found = accessor.at("type"); found.text() != type)
    found.fault(fmt::format("\"{}\"", type));
  const Asked component_type = accessor.at("componentType");
  Row row;
  row.component_type = component_type.whole();
  const std::size_t size = component_size(component_type) * (type == "VEC3" ? 3 : 1);
  row.count = accessor.at("count").whole();
  const auto view_number = accessor.find("bufferView");
  if (!view_number)
    accessor.fault("an accessor without a buffer view (as for compressed data)", "\"bufferView\"");
  const Asked view = root_.at("bufferViews").at(view_number->whole());
  const std::string_view bytes = buffer(view.at("buffer").whole());
  const std::size_t begin = view.whole("byteOffset", 0), length = view.at("byteLength").whole();
  if (begin > bytes.size() || length > bytes.size() - begin)
    view.fault(fmt::format("bytes {} and {} from there on", begin, length),
               fmt::format("a part of the buffer's {} bytes", bytes.size()));
  row.step = size;
  if (const auto stride = view.find("byteStride")) {
    row.step = stride->whole();
    if (row.step < std::max<std::size_t>(size, 4) || row.step > 252)
      stride->fault(fmt::format("{} to 252", std::max<std::size_t>(size, 4)));
  }
  const std::size_t offset = accessor.whole("byteOffset", 0);
  // The last value need not fill its step.
  if (row.count > 0 &&
      (offset > length || length - offset < size || row.count - 1 > (length - offset - size) / row.step))
    accessor.fault(fmt::format("{} values", row.count),
                   fmt::format("as many as its buffer view's {} bytes hold", length));
  row.bytes = row.count > 0 ? bytes.substr(begin + offset) : std::string_view();
  return row;
}

std::string_view Buffers::buffer(std::size_t number) {
  const Asked buffer = root_.at("buffers").at(number);
  const Asked length = buffer.at("byteLength");
  const std::size_t announced = length.whole();
  const auto uri = buffer.find("uri");
  std::string_view bytes;
  if (!uri) {
    if (number != 0 || !own_)
      buffer.fault("a buffer without \"uri\"",
                   "\"uri\", or the binary part of a .glb file for the first buffer");
    bytes = *own_;
  } else {
    auto found = fetched_.find(number);
    if (found == fetched_.end()) {
      found = fetched_.emplace(number, from_uri(*uri)).first;
      fetched_bytes_ += found->second.size();
      if (fetched_bytes_ > bytes_at_most)
        uri->fault(fmt::format("more than {} bytes in all buffers", bytes_at_most),
                   fmt::format("at most {} bytes", bytes_at_most));
    }
    bytes = found->second;
  }
  if (announced > bytes.size())
    length.fault(fmt::format("{} bytes announced, and {} there", announced, bytes.size()),
                 "a buffer that holds as much as it says");
  return bytes.substr(0, announced);
}

std::string Buffers::from_uri(const Asked& uri) const {
  constexpr std::string_view data = "data:", base64 = ";base64,";
  const std::string_view text = uri.text();
  if (!text.starts_with(data))
    return from_file(uri);
  const std::size_t comma = text.find(',');
  if (comma == std::string_view::npos || !text.substr(0, comma + 1).ends_with(base64))
    uri.fault("data of another coding", "data in base 64 (\"data:...;base64,...\")");
  auto bytes = from_base64(text.substr(comma + 1));
  if (!bytes)
    uri.fault("something that is no base 64", "data in base 64 (letters, digits, + and /)");
  return *std::move(bytes);
}

std::string Buffers::from_file(const Asked& uri) const {
  namespace fs = std::filesystem;
  if (folder_.empty())
    uri.fault("the name of a file", "data within the file itself");
  const auto decoded = percent_decoded(uri.text());
  if (!decoded || decoded->empty() ||
      decoded->find_first_of(std::string_view("\0\\:", 3)) != std::string::npos ||
      uri.text().find_first_of("?#") != std::string::npos)
    uri.fault(own_files);
  const fs::path relative(*decoded);
  if (relative.is_absolute() || std::ranges::find(relative, fs::path("..")) != relative.end())
    uri.fault(own_files);
  // A link may lead out as well.
  std::error_code failure;
  const fs::path folder = fs::canonical(folder_, failure);
  const fs::path file = failure ? fs::path() : fs::canonical(folder / relative, failure);
  if (failure)
    uri.fault(fmt::format("{}: {}", in_quotes(*decoded), failure.message()), own_files);
  if (std::mismatch(folder.begin(), folder.end(), file.begin(), file.end()).first != folder.end())
    uri.fault(fmt::format("{}, which leads out of the folder", in_quotes(*decoded)), own_files);
  return file_bytes(file, bytes_at_most - fetched_bytes_, {});
}

} // namespace bellmouth::mesh
