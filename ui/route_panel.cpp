// SPDX-License-Identifier: GPL-3.0-or-later
#include "route_panel.hpp"

#include "fact_list.hpp"
#include "form.hpp"
#include "piece_text.hpp"
#include "quantity_edit.hpp"
#include "route_list.hpp"
#include "route_matters.hpp"
#include "route_options.hpp"
#include "route_passing.hpp"
#include "route_text.hpp"

#include <QEvent>
#include <QHBoxLayout>
#include <QProgressBar>
#include <QPushButton>
#include <QScrollArea>
#include <QSignalBlocker>
#include <QStackedWidget>
#include <QToolButton>

#include <algorithm>
#include <cassert>
#include <utility>

namespace bellmouth::ui {

namespace {

constexpr int progress_steps = 1000;
constexpr double pass_radius_m = 50e-3;

/// A page that scrolls where it finds no room.
QScrollArea* scrolled(QWidget* content, const QString& name, const QString& accessible_name) {
  auto* area = new QScrollArea;
  area->setObjectName(name);
  area->setAccessibleName(accessible_name);
  area->setWidgetResizable(true);
  area->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
  area->setFrameShape(QFrame::NoFrame);
  area->setFocusPolicy(Qt::NoFocus);
  area->setWidget(content);
  return area;
}

void colour(WrappedLabel& label, const QColor& ink) {
  QPalette colours = label.palette();
  colours.setColor(QPalette::WindowText, ink);
  label.setPalette(colours);
}

} // namespace

RoutePanel::RoutePanel(Session& session, RouteSource source, QWidget* parent)
    : QWidget(parent), session_(session), search_(session, std::move(source)), runs_(new ComboBox(this)),
      find_(new QPushButton(this)), options_button_(new QToolButton(this)), matters_(new RouteMatters(this)),
      options_(new RouteOptions(session, this)), progress_(new QProgressBar(this)),
      progress_words_(new QLabel(this)), error_(new WrappedLabel(this)), stale_(new WrappedLabel(this)),
      empty_words_(new WrappedLabel(this)), pages_(new QStackedWidget(this)), list_(new RouteList(this)),
      take_(new QPushButton(tr("&Take this route"), this)), compare_(new QPushButton(this)) {
  setObjectName("route_panel");
  auto* column = new QVBoxLayout(this);
  column->setContentsMargins(wide_gap, gap, wide_gap, gap);
  column->setSpacing(gap);
  make_head(*column);
  make_pages(*column);
  make_foot(*column);
  connect(&search_, &RouteSearch::routes_changed, this, &RoutePanel::show_routes);
  connect(&search_, &RouteSearch::state_changed, this, &RoutePanel::show_state);
  connect(&session_, &Session::changed, this, &RoutePanel::on_session);
  connect(matters_, &RouteMatters::changed, this, &RoutePanel::change_matters);
  refresh_runs();
  show_usual();
  show_state();
}

// ---------------------------------------------------------------- making it

void RoutePanel::make_head(QVBoxLayout& column) {
  auto* close = new QToolButton(this);
  close->setObjectName("route_close");
  close->setText(QString::fromUtf8("×"));
  close->setAutoRaise(true);
  close->setFocusPolicy(Qt::TabFocus);
  close->setAccessibleName(tr("Close the routes"));
  close->setToolTip(tr("Back to the editor; the routes stay"));
  connect(close, &QToolButton::clicked, this, &RoutePanel::close_requested);
  auto* row = new QHBoxLayout;
  QLabel* title = heading(tr("Routes"), this);
  title->setWordWrap(false);
  row->addWidget(title);
  row->addStretch(1);
  row->addWidget(progress_words_);
  row->addWidget(close);
  column.addLayout(row);

  runs_->setObjectName("route_run");
  runs_->setAccessibleName(tr("Run to find routes for"));
  runs_->setToolTip(tr("The run that routes are found for; clicking on a port in the bay picks its run"));
  runs_->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
  connect(runs_, &QComboBox::activated, this, [this] {
    search_.clear();
    show_usual();
    session_.select(PickedRun{*run()}); // what is meant everywhere else in the window, too
  });
  find_->setObjectName("route_find");
  find_->setToolTip(tr("Begin to search, or stop"));
  connect(find_, &QPushButton::clicked, this, &RoutePanel::begin_or_stop);
  options_button_->setObjectName("route_options_button");
  options_button_->setText(tr("Options"));
  options_button_->setCheckable(true);
  options_button_->setFocusPolicy(Qt::TabFocus);
  options_button_->setToolTip(
      tr("Tube, cuts, pieces that stay, places to pass, and for how long it searches"));
  connect(options_button_, &QToolButton::clicked, this, &RoutePanel::show_page);
  row = new QHBoxLayout;
  row->setSpacing(gap);
  row->addWidget(runs_, 1);
  row->addWidget(options_button_);
  row->addWidget(find_);
  column.addLayout(row);

  column.addWidget(matters_);
  progress_->setObjectName("route_progress");
  progress_->setAccessibleName(tr("Search"));
  progress_->setRange(0, progress_steps);
  progress_->setTextVisible(false);
  constexpr int bar_height = 6;
  progress_->setFixedHeight(bar_height);
  progress_words_->setObjectName("route_progress_words");
  progress_words_->setFont(small_font());
  progress_words_->setForegroundRole(QPalette::PlaceholderText);
  error_->setObjectName("route_error");
  error_->hide();
  stale_->setObjectName("route_stale");
  stale_->setFont(small_font());
  for (QWidget* each : std::initializer_list<QWidget*>{progress_, error_, stale_})
    column.addWidget(each);
}

void RoutePanel::make_pages(QVBoxLayout& column) {
  auto* empty = new QWidget;
  auto* words = new QVBoxLayout(empty);
  words->setContentsMargins(0, wide_gap, 0, 0);
  empty_words_->setObjectName("route_empty_words");
  words->addWidget(empty_words_);
  words->addStretch(1);
  none_ = new QWidget;
  none_->setObjectName("route_none");
  none_column_ = new QVBoxLayout(none_);
  none_column_->setContentsMargins(0, wide_gap, gap, 0);
  none_column_->setSpacing(gap);
  auto* options = new QWidget;
  auto* options_column = new QVBoxLayout(options);
  options_column->setContentsMargins(0, gap, gap, 0);
  options_column->addWidget(options_);
  pages_->insertWidget(empty_page, empty);
  pages_->insertWidget(list_page, list_);
  pages_->insertWidget(none_page, scrolled(none_, "route_none_scroll", tr("Why there is no route")));
  pages_->insertWidget(options_page, scrolled(options, "route_options_scroll", tr("Options")));
  column.addWidget(pages_, 1);
  connect(list_, &RouteList::pointed, this, &RoutePanel::tell_ghost);
  connect(list_, &RouteList::taken, this, &RoutePanel::take);
  connect(list_, &RouteList::chosen, this, [this] {
    const auto route = list_->current();
    search_.hold(route ? std::optional(search_.routes().at(*route).answer.way) : std::nullopt);
    show_page();
  });
}

void RoutePanel::make_foot(QVBoxLayout& column) {
  take_->setObjectName("route_take");
  take_->setToolTip(tr("Makes an option with this route out of the one it was found for, in one step"));
  connect(take_, &QPushButton::clicked, this, [this] {
    if (const auto route = list_->current())
      take(*route);
  });
  compare_->setObjectName("route_compare");
  connect(compare_, &QPushButton::clicked, this, &RoutePanel::compare);
  auto* row = new QHBoxLayout;
  row->setSpacing(gap);
  row->addWidget(take_);
  row->addWidget(compare_, 1);
  column.addLayout(row);
}

// ---------------------------------------------------------------- which run

std::optional<build::RunId> RoutePanel::run() const {
  return runs_->currentIndex() < 0
             ? std::nullopt
             : std::optional(build::RunId{runs_->currentData().toString().toStdString()});
}

void RoutePanel::choose_run(const build::RunId& run) {
  const int index = runs_->findData(QString::fromStdString(run.text));
  if (index < 0 || index == runs_->currentIndex())
    return;
  runs_->setCurrentIndex(index);
  search_.clear();
  show_usual();
}

void RoutePanel::refresh_runs() {
  const QString before = runs_->currentData().toString();
  const QSignalBlocker quiet(runs_);
  runs_->clear();
  for (const auto& run : session_.build().find(session_.option())->runs)
    runs_->addItem(run_name(run->id), QString::fromStdString(run->id.text));
  const int index = runs_->findData(before);
  runs_->setCurrentIndex(runs_->count() == 0 ? -1 : std::max(0, index));
  runs_->setEnabled(runs_->count() > 0);
}

void RoutePanel::show_usual() {
  if (const auto chosen = run()) {
    options_->show_ask(search_.usual(*chosen));
    options_->set_matters(matters_->matters());
  }
}

void RoutePanel::on_session(Changes changes) {
  if (changes & (Changes(Change::document) | Change::evaluation)) {
    const auto before = run();
    refresh_runs();
    if (!session_.previewing()) {
      // The question that was put together goes on to the option shown, as far as it fits.
      find::Ask ask = options_->wish().ask;
      const auto chosen = run();
      const build::Run* now = chosen ? session_.build().find(session_.option())->find(*chosen) : nullptr;
      if (now != nullptr && before == chosen) {
        ask.option = session_.option();
        ask.keep_first = std::min(ask.keep_first, now->pieces.size());
        ask.keep_last = std::min(ask.keep_last, now->pieces.size() - ask.keep_first);
        options_->show_ask(ask);
      } else {
        show_usual();
      }
    }
    if (changes & Change::document && !search_.stale())
      show_routes(); // units may be others
    show_page();
  }
  if (changes & Change::selection)
    follow_selection();
}

void RoutePanel::follow_selection() {
  const Selection& selection = session_.selection();
  const build::Option& option = *session_.build().find(session_.option());
  std::optional<build::RunId> meant;
  if (const auto* piece = std::get_if<PickedPiece>(&selection))
    meant = piece->run;
  else if (const auto* picked = std::get_if<PickedRun>(&selection))
    meant = picked->run;
  bool both_ends = false;
  if (const auto* port = std::get_if<PickedPort>(&selection)) {
    for (const auto& each : option.runs) {
      const bool begins = each->from == port->port, ends = each->to == port->port;
      if (begins || ends) {
        meant = each->id;
        both_ends = picked_before_ == (begins ? each->to : each->from);
      }
    }
    picked_before_ = port->port;
  } else {
    picked_before_.reset();
  }
  // What has been found is not thrown away for a look at something else; both ends of a run are meant.
  if (meant && search_.state() != RouteSearch::State::searching &&
      (both_ends || search_.state() == RouteSearch::State::idle))
    choose_run(*meant);
}

// ---------------------------------------------------------------- searching

void RoutePanel::find_routes(const build::RunId& run) {
  assert(session_.build().find(session_.option())->find(run) != nullptr);
  choose_run(run);
  begin();
  find_->setFocus(Qt::ShortcutFocusReason); // the list is a few steps further on
}

void RoutePanel::begin_or_stop() {
  if (search_.state() == RouteSearch::State::searching)
    search_.stop();
  else
    begin();
}

void RoutePanel::begin() {
  if (!run())
    return;
  options_button_->setChecked(false);
  options_->set_matters(matters_->matters());
  const RouteWish& wish = options_->wish();
  side_.reset();
  taken_.reset();
  const auto error = search_.start(wish.ask, wish.seconds);
  if (error)
    search_.clear();
  show_complaint(*error_, error ? complaint(*error) : QString());
  show_page();
}

void RoutePanel::change_matters() {
  const find::Matters matters = matters_->matters();
  if (matters == find::Matters{0, 0, 0, 0}) {
    show_complaint(*error_, tr("Something has to matter: the order stays as it was."));
    return;
  }
  show_complaint(*error_, {});
  options_->set_matters(matters);
  search_.set_matters(matters);
}

void RoutePanel::pass_near(const build::Vector& point_m) {
  options_->pass(waypoint_at(point_m, pass_radius_m));
  options_button_->setChecked(true);
  show_page();
}

// ---------------------------------------------------------------- what there is

void RoutePanel::show_routes() {
  std::vector<RouteRow> rows;
  if (const auto& question = search_.question(); question && !search_.routes().empty()) {
    std::vector<way::Way> ways;
    for (const find::Proposal& route : search_.routes())
      ways.push_back(route.answer.way);
    side_ = telling_side(question->problem, ways, side_);
    const RoutePictures pictures(question->problem, ways, *side_);
    for (std::size_t i = 0; i < ways.size(); ++i) {
      const find::Proposal& route = search_.routes()[i];
      rows.push_back({ways[i], route_title(route, i), route_lines(route, *search_.ghost(i)),
                      pictures.picture(i, RouteDelegate::picture_size, devicePixelRatioF(), theme()),
                      route_tip(route)});
    }
  }
  list_->show_rows(std::move(rows));
  show_page();
}

void RoutePanel::show_state() {
  using enum RouteSearch::State;
  const RouteSearch::State state = search_.state();
  const RouteSearch::Progress& progress = search_.progress();
  find_->setText(state == searching ? tr("&Stop") : state == idle ? tr("&Find routes") : tr("Search &again"));
  find_->setEnabled(state != asking && run().has_value());
  progress_->setVisible(state == searching || state == asking);
  if (state == asking)
    progress_->setRange(0, 0);
  else
    progress_->setRange(0, progress_steps);
  if (progress.seconds_allowed > 0)
    progress_->setValue(
        static_cast<int>(progress_steps * std::clamp(progress.seconds / progress.seconds_allowed, 0.0, 1.0)));
  progress_words_->setVisible(state != idle);
  progress_words_->setText(state == asking ? tr("No route: trying others") : progress_words(progress));
  progress_words_->setToolTip(progress_tip(progress));
  stale_->setVisible(search_.stale());
  colour(*stale_, theme().caution);
  stale_->set_text(search_.routes().empty()
                       ? tr("The build has changed: this was asked of an older state. Search again.")
                       : tr("The build has changed: these routes belong to an older state. Search again."));
  if (!search_.stale())
    stale_->set_text({});
  list_->set_faded(search_.stale());
  if (std::exchange(was_stale_, search_.stale()) != search_.stale())
    tell_ghost();
  if (state == ended)
    show_reasons();
  show_page();
}

void RoutePanel::show_reasons() {
  while (QLayoutItem* item = none_column_->takeAt(0)) {
    if (item->widget() != nullptr) {
      item->widget()->hide();
      item->widget()->deleteLater(); // it may be the button that was pressed
    }
    delete item;
  }
  const auto say = [this](const QString& text) {
    auto* label = new WrappedLabel(none_);
    none_column_->addWidget(label);
    label->set_text(text);
    return label;
  };
  none_column_->addWidget(heading(search_.progress().stopped     ? tr("No route so far")
                                  : search_.progress().exhausted ? tr("There is no route")
                                                                 : tr("No route was found"),
                                  none_));
  const std::vector<find::Reason>& reasons = search_.reasons();
  if (reasons.empty())
    say(search_.progress().stopped
            ? tr("Search again to go on.")
            : tr("None was found in this time. Options lets it search for longer, with more bends, another "
                 "tube, or with fewer pieces kept."))
        ->setObjectName("route_none_words");
  for (std::size_t i = 0; i < reasons.size(); ++i) {
    const QString text = QString::fromStdString(reasons[i].text);
    say(text)->setObjectName(QString("route_reason_%1").arg(i));
    if (!reasons[i].ask)
      continue;
    auto* button = new QPushButton(tr("Try with that"), none_);
    button->setObjectName(QString("route_try_%1").arg(i));
    button->setAccessibleName(tr("Try with that: %1").arg(text));
    connect(button, &QPushButton::clicked, this, [this, ask = *reasons[i].ask] {
      options_->show_ask(ask);
      begin();
    });
    none_column_->addWidget(button, 0, Qt::AlignLeft);
  }
  none_column_->addStretch(1);
}

void RoutePanel::show_page() {
  using enum RouteSearch::State;
  const RouteSearch::State state = search_.state();
  const bool any = !search_.routes().empty();
  empty_words_->set_text(
      !run()            ? tr("The option has no run to find routes for.")
      : state == idle   ? tr("Choose a run above, or click on its two ports in the bay, and "
                               "press Find routes.\n\nRoutes of "
                               "pieces from your stock come up here one after the other, each "
                               "closed, clear of all that it does not "
                               "begin or end at, and with its figures. Point at one to see it in the bay. Take "
                               "one, and it becomes an option of its "
                               "own, to be compared with what there is.\n\nThe sliders say how much each thing "
                               "matters, and put the routes in another order at once.")
      : state == asking ? tr("No route was found as it is asked. Trying what would give one…")
                        : tr("No route yet. The first shows here as soon as there is one."));
  pages_->setCurrentIndex(options_button_->isChecked() ? options_page
                          : any                        ? list_page
                          : state == ended             ? none_page
                                                       : empty_page);
  take_->setEnabled(any && list_->current().has_value() && !search_.stale());
  take_->setVisible(any);
  const bool comparable = taken_ && session_.build().find(taken_->made) != nullptr &&
                          session_.build().find(taken_->from) != nullptr;
  compare_->setVisible(comparable);
  if (comparable)
    compare_->setText(tr("&Compare with %1").arg(option_name(taken_->from)));
}

void RoutePanel::tell_ghost() {
  const auto route = list_->pointed_at();
  bool shown = route && *route < search_.routes().size() && isVisible() && !search_.stale();
  // The option that was made of it shows it already.
  if (shown && taken_ && taken_->made == session_.option())
    shown = search_.routes()[*route].answer.way != taken_->way;
  emit ghost_changed(shown ? search_.ghost(*route) : nullptr);
}

void RoutePanel::take(std::size_t route) {
  if (search_.stale())
    return;
  const build::OptionId from = search_.question()->ask.option;
  const way::Way way = search_.routes().at(route).answer.way;
  const auto made = search_.take(route);
  if (!made) {
    emit message(complaint(made.error()));
    return;
  }
  taken_ = Taken{*made, from, way};
  show_page();
  tell_ghost();
  emit message(tr("The route is now the option \"%1\"").arg(option_name(*made)));
}

void RoutePanel::compare() {
  session_.show_option(taken_->made);
  session_.compare_with(taken_->from);
  emit compare_requested();
}

void RoutePanel::changeEvent(QEvent* event) {
  QWidget::changeEvent(event);
  if (event->type() == QEvent::PaletteChange) {
    show_routes(); // the pictures have the colours of the look
    colour(*stale_, theme().caution);
  }
}

void RoutePanel::showEvent(QShowEvent* event) {
  QWidget::showEvent(event);
  tell_ghost();
}

void RoutePanel::hideEvent(QHideEvent* event) {
  QWidget::hideEvent(event);
  tell_ghost();
}

} // namespace bellmouth::ui
