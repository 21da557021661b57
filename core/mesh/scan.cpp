// SPDX-License-Identifier: GPL-3.0-or-later
#include "digest.hpp"
#include "source.hpp"

namespace bellmouth::mesh {

std::shared_ptr<const Scan> make_scan(Surface surface, std::vector<std::string> remarks) {
  Surface for_display = thinned(surface, display_triangles);
  Tree tree(surface);
  std::string words = digest(surface);
  return std::make_shared<const Scan>(Scan{std::move(surface), std::move(for_display), std::move(tree),
                                           std::move(words), std::move(remarks)});
}

Result<std::shared_ptr<const Scan>> load_scan(const std::filesystem::path& file, const Progress& progress) {
  // Making ready takes about as long as reading, and cannot be stopped half-way.
  constexpr double reading_share = 0.6;
  Progress reading;
  if (progress)
    reading = [&progress](double share) { return progress(reading_share * share); };
  Result<Imported> imported = load(file, reading);
  if (!imported)
    return fail(imported.error());
  std::shared_ptr<const Scan> scan = make_scan(std::move(imported->surface), std::move(imported->remarks));
  if (progress && !progress(1))
    return fail(cancelled(file.string()).error);
  return scan;
}

} // namespace bellmouth::mesh
