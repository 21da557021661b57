// SPDX-License-Identifier: GPL-3.0-or-later
// How a build names the files that belong to it.
#include <bellmouth/build/files.hpp>

#include <algorithm>

namespace bellmouth::build {

std::string file_name_from(const std::filesystem::path& folder, const std::filesystem::path& file) {
  const auto whole = file.lexically_normal();
  if (folder.empty())
    return whole.string();
  const auto from = folder.lexically_normal();
  auto relative = whole.lexically_relative(from);
  return relative.empty() || *relative.begin() == ".." ? whole.string() : relative.string();
}

Build with_files_named_from(Build build, const std::filesystem::path& before,
                            const std::filesystem::path& now) {
  // An absolute name stands for itself.
  const auto name_anew = [&](std::string& file) { file = file_name_from(now, before / file); };
  for (KeepOut& keep_out : build.keep_outs)
    if (auto* scan = std::get_if<Scan>(&keep_out.shape))
      name_anew(scan->file);
  std::ranges::for_each(build.photographs, [&](Photograph& photograph) { name_anew(photograph.file); });
  return build;
}

} // namespace bellmouth::build
