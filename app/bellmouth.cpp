// SPDX-License-Identifier: GPL-3.0-or-later
// The desktop program.
#include <bellmouth/build.hpp>

#include <QApplication>
#include <QCommandLineParser>
#include <QFileInfo>
#include <QStandardPaths>
#include <QTimer>

#include <algorithm>
#include <iostream>
#include <main_window.hpp>
#include <memory>
#include <new_build.hpp>
#include <recovery.hpp>
#include <string_view>

namespace {

using namespace bellmouth;

/// A folder of data: as installed, beside the program's own place, or in the source tree it was built from.
QDir data_folder(const QString& name, const char* in_source_tree) {
  const QDir installed(QCoreApplication::applicationDirPath() + "/../share/bellmouth/" + name);
  return installed.exists() ? installed : QDir(in_source_tree);
}

/// What the window opens with.
struct Start {
  build::Build build;
  QString file;
  bool demo = false;
};

Result<Start> start_with(const QStringList& files, const QDir& demo_builds) {
  if (!files.isEmpty()) {
    auto build = build::load_build(files.front().toStdString());
    if (!build)
      return fail(build.error());
    return Start{*std::move(build), QFileInfo(files.front()).absoluteFilePath(), false};
  }
  // The first demo build shows what there is to see.
  const QStringList demos = demo_builds.entryList({"*.json"}, QDir::Files, QDir::Name);
  if (!demos.isEmpty())
    if (auto build = build::load_build(demo_builds.filePath(demos.front()).toStdString()))
      return Start{
          build::with_files_named_from(*std::move(build), demo_builds.absolutePath().toStdString(), {}),
          {},
          true};
  return Start{ui::new_build({}, {}), {}, false};
}

/// "1280x800".
QSize size_of(const QString& text) {
  const QStringList parts = text.split('x');
  return parts.size() == 2 ? QSize(parts[0].toInt(), parts[1].toInt()) : QSize();
}

int usage(const QString& complaint) {
  std::cerr << complaint.toStdString() << '\n';
  return 2;
}

/// Whether only words on the terminal are asked for; they need no screen.
bool asks_for_words(int argc, char** argv) {
  return std::any_of(argv + 1, argv + argc, [](const std::string_view argument) {
    return argument == "-h" || argument == "--help" || argument == "--help-all" || argument == "-v" ||
           argument == "--version";
  });
}

} // namespace

int main(int argc, char** argv) {
  QCoreApplication::setApplicationName("bellmouth");
  QCoreApplication::setOrganizationName("bellmouth");
  QCoreApplication::setApplicationVersion(BELLMOUTH_VERSION);
  const std::unique_ptr<QCoreApplication> application(
      asks_for_words(argc, argv) ? new QCoreApplication(argc, argv) : new QApplication(argc, argv));

  QCommandLineParser parser;
  parser.setApplicationDescription("Lays out the air path from the filter to the engine.");
  parser.addHelpOption();
  parser.addVersionOption();
  parser.addPositionalArgument("build", "The build file to open.", "[build]");
  const QCommandLineOption screenshot("screenshot",
                                      "For developers: draw the window into a PNG file and end.", "file");
  const QCommandLineOption window_size("size", "Size of the window, such as 1280x800.", "WxH");
  const QCommandLineOption look("theme", "light or dark, whatever the settings say.", "theme");
  const QCommandLineOption tab(
      "tab", "View to show: path, costs, findings, lists, stock, compare, bay or measures.", "name");
  parser.addOptions({screenshot, window_size, look, tab});
  parser.process(*application);
  QApplication::setApplicationDisplayName("Bellmouth");
  QApplication::setWindowIcon(QIcon(":/icons/bellmouth.svg"));
  if (parser.positionalArguments().size() > 1)
    return usage("bellmouth: found more than one build; accepted: one");
  if (parser.isSet(look) && parser.value(look) != "light" && parser.value(look) != "dark")
    return usage("bellmouth: found --theme " + parser.value(look) + "; accepted: light or dark");
  if (parser.isSet(window_size) && !size_of(parser.value(window_size)).isValid())
    return usage("bellmouth: found --size " + parser.value(window_size) + "; accepted: such as 1280x800");

  ui::Settings settings;
  ui::use_look(parser.isSet(look) ? (parser.value(look) == "dark" ? ui::Look::dark : ui::Look::light)
                                  : settings.look());
  ui::use_units(settings.units());

  const ui::Places places{data_folder("demo_builds", BELLMOUTH_DEMO_DIR),
                          data_folder("stock", BELLMOUTH_SHARED_DIR "/stock")};
  auto start = start_with(parser.positionalArguments(), places.demo_builds);
  if (!start && parser.isSet(screenshot))
    return usage(QString::fromStdString(start.error().text()));
  const ui::Dialogs dialogs = ui::desktop_dialogs();
  if (!start) {
    const QString why = QString::fromStdString(start.error().text());
    start = start_with({}, places.demo_builds);
    dialogs.error(nullptr, "The build cannot be opened",
                  why + (start->demo ? "\n\nA copy of a demo build is shown instead."
                                     : "\n\nA new build is shown instead."));
  }

  ui::Session session(std::move(start->build), start->file);
  if (start->demo)
    session.mark_demo();
  using namespace std::chrono_literals;
  ui::Recovery recovery(
      session, QDir(QStandardPaths::writableLocation(QStandardPaths::AppLocalDataLocation) + "/recovery"),
      4s);
  ui::MainWindow window(session, recovery, settings, dialogs, places);
  if (!start->file.isEmpty())
    settings.add_recent_file(start->file);
  if (parser.isSet(window_size))
    window.resize(size_of(parser.value(window_size)));
  if (parser.isSet(tab))
    window.show_tab("tab_" + parser.value(tab));
  window.show();
  if (parser.isSet(screenshot)) {
    // Once the window has been laid out and drawn.
    QTimer::singleShot(300, &window, [&] {
      const bool saved = window.grab().save(parser.value(screenshot));
      QApplication::exit(saved ? 0 : 3);
    });
  } else {
    QTimer::singleShot(0, &window, &ui::MainWindow::offer_left_behind);
  }
  return QApplication::exec();
}
