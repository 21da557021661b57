// SPDX-License-Identifier: GPL-3.0-or-later
#include "readers.hpp"
#include "text.hpp"

#include <spdlog/fmt/fmt.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <fcntl.h>
#include <memory>
#include <new>
#include <sys/stat.h>
#include <unistd.h>

namespace bellmouth::mesh {

namespace {

enum class Kind { binary_stl, text_stl, obj, ply, gltf, glb };
constexpr std::string_view kinds = "STL, OBJ, PLY, glTF (.gltf) or GLB (.glb)";

/// The kind by the ending of the name.
Kind kind_by_name(const Source& source, const std::string& name) {
  std::string ending = std::filesystem::path(name).extension().string();
  std::ranges::transform(ending, ending.begin(),
                         [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c; });
  if (ending == ".stl")
    return Kind::binary_stl;
  if (ending == ".obj")
    return Kind::obj;
  if (ending == ".ply")
    return Kind::ply;
  if (ending == ".gltf")
    return Kind::gltf;
  if (ending == ".glb")
    return Kind::glb;
  source.fault("a file of an unknown kind", fmt::format("a mesh as {}", kinds));
}

/// Whether the file begins as text does. The header of a binary STL file may begin with "solid" too.
bool begins_as_text(std::string_view bytes) {
  return std::ranges::none_of(bytes.substr(0, 512), [](char c) {
    return c >= 0 && c < ' ' && c != '\t' && c != '\n' && c != '\r' && c != '\f' && c != '\v';
  });
}

Kind kind_of(const Source& source, const std::string& name) {
  const std::string_view bytes = source.bytes();
  if (bytes.empty())
    source.fault("an empty file", fmt::format("a mesh as {}", kinds));
  if (bytes.starts_with("\xFE\xFF") || bytes.starts_with("\xFF\xFE"))
    source.fault("text in UTF-16", "text in UTF-8");
  if (bytes.size() > binary_stl_size(0) &&
      bytes.size() == binary_stl_size(number_at<std::uint32_t>(bytes.data() + 80)))
    return Kind::binary_stl;
  if (bytes.starts_with("glTF"))
    return Kind::glb;
  if (bytes.starts_with("ply\n") || bytes.starts_with("ply\r"))
    return Kind::ply;
  const std::size_t begin = std::min(bytes.find_first_not_of(" \t\r\n\v\f", text_begin(bytes)), bytes.size());
  const std::string_view rest = bytes.substr(begin);
  if (rest.starts_with('{') && begins_as_text(bytes))
    return Kind::gltf;
  if ((rest.starts_with("solid") || rest.starts_with("SOLID")) && begins_as_text(bytes))
    return Kind::text_stl;
  return kind_by_name(source, name);
}

Imported read_source(const Source& source, const std::string& name, const std::filesystem::path& folder) {
  Collector collector(source);
  switch (kind_of(source, name)) {
  case Kind::binary_stl:
    read_binary_stl(source, collector);
    break;
  case Kind::text_stl:
    read_text_stl(source, collector);
    break;
  case Kind::obj:
    read_obj(source, collector);
    break;
  case Kind::ply:
    read_ply(source, collector);
    break;
  case Kind::gltf:
    read_gltf(source, folder, collector);
    break;
  case Kind::glb:
    read_glb(source, folder, collector);
    break;
  }
  source.reached_share(1);
  return std::move(collector).finish();
}

/// What `work` gives, or the complaint that it throws.
template <class Work> auto caught(const std::string& name, Work work) -> Result<decltype(work())> {
  try {
    return work();
  } catch (const Fault& fault) {
    return fail(fault.error);
  } catch (const std::bad_alloc&) {
    return fail(Error{{name, 0, 0, {}}, "more than fits into the memory", "a smaller file", {}});
  }
}

/// The share of loading that goes into getting the bytes.
constexpr double bytes_share = 0.2;

} // namespace

std::string file_bytes(const std::filesystem::path& file, std::size_t at_most, const Progress& progress) {
  const auto fault = [&](const std::string& words) {
    return Fault{{{file.string(), 0, 0, {}}, words, "the name of a file that can be read", {}}};
  };
  struct stat status {};
  const int opened = ::open(file.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK);
  if (opened < 0)
    throw fault(std::strerror(errno));
  const std::unique_ptr<const int, void (*)(const int*)> closer(&opened, [](const int* fd) { ::close(*fd); });
  if (::fstat(opened, &status) != 0)
    throw fault(std::strerror(errno));
  if (!S_ISREG(status.st_mode))
    throw fault(S_ISDIR(status.st_mode) ? "a folder" : "something that is not a file");
  const auto announced = static_cast<std::size_t>(status.st_size);
  if (announced > at_most)
    throw Fault{{{file.string(), 0, 0, {}},
                 fmt::format("a file of {} bytes", announced),
                 fmt::format("at most {} bytes", at_most),
                 {}}};
  std::string bytes(announced, '\0');
  std::size_t size = 0;
  while (size < bytes.size()) {
    constexpr std::size_t most_at_once = 1U << 24U;
    const ssize_t got = ::read(opened, bytes.data() + size, std::min(bytes.size() - size, most_at_once));
    if (got < 0 && errno == EINTR)
      continue;
    if (got < 0)
      throw fault(std::strerror(errno));
    if (got == 0)
      break;
    size += static_cast<std::size_t>(got);
    if (progress && !progress(static_cast<double>(size) / static_cast<double>(bytes.size())))
      throw cancelled(file.string());
  }
  bytes.resize(size);
  return bytes;
}

Result<Imported> read(std::string_view bytes, const std::string& name, const std::filesystem::path& folder,
                      const Progress& progress) {
  const Source source(bytes, name, progress);
  return caught(name, [&] { return read_source(source, name, folder); });
}

Result<Imported> load(const std::filesystem::path& file, const Progress& progress) {
  const std::string name = file.string();
  const auto part = [&](double from, double to) -> Progress {
    if (!progress)
      return {};
    return [&progress, from, to](double share) { return progress(from + share * (to - from)); };
  };
  const Progress getting = part(0, bytes_share), reading = part(bytes_share, 1);
  return caught(name, [&] {
    const std::string bytes = file_bytes(file, bytes_at_most, getting);
    const std::filesystem::path folder = file.has_parent_path() ? file.parent_path() : ".";
    return read_source(Source(bytes, name, reading), name, folder);
  });
}

} // namespace bellmouth::mesh
