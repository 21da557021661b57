// SPDX-License-Identifier: GPL-3.0-or-later
#include "proposal_dialog.hpp"

#include "findings_model.hpp"
#include "form.hpp"
#include "theme.hpp"
#include "wrapped_label.hpp"

#include <QHBoxLayout>
#include <QPushButton>
#include <QScrollArea>
#include <QVBoxLayout>

#include <cassert>

namespace bellmouth::ui {

namespace {

constexpr int width_px = 370;

QString numbered(const std::vector<std::string>& lines) {
  QString html = "<ol style='margin-left:-18px;'>";
  for (const std::string& line : lines)
    html += "<li style='margin-bottom:4px;'>" + QString::fromStdString(line).toHtmlEscaped() + "</li>";
  return html + "</ol>";
}

QString bulleted(const std::vector<std::string>& lines) {
  return numbered(lines).replace("<ol", "<ul").replace("</ol>", "</ul>");
}

} // namespace

ProposalDialog::ProposalDialog(Session& session, const QString& title, std::vector<Choice> choices, int first,
                               QWidget* parent)
    : QDialog(parent), session_(session), base_(session.build()), choices_(std::move(choices)),
      before_(counts(session)), which_(new ComboBox(this)), intro_(new WrappedLabel(this)),
      summary_(new WrappedLabel(this)), steps_(new WrappedLabel(this)), open_title_(new WrappedLabel(this)),
      open_(new WrappedLabel(this)), findings_(new WrappedLabel(this)),
      take_(new QPushButton(tr("&Take"), this)), leave_(new QPushButton(tr("&Leave"), this)) {
  assert(first >= 0 && static_cast<std::size_t>(first) < choices_.size());
  setObjectName("proposal_dialog");
  setWindowTitle(title);
  which_->setObjectName("proposal_which");
  which_->setAccessibleName(tr("For which run"));
  for (const Choice& choice : choices_)
    which_->addItem(choice.name);
  which_->setCurrentIndex(first);
  which_->setVisible(choices_.size() > 1);
  intro_->setObjectName("proposal_intro");
  intro_->set_text(choices_.front().name);
  intro_->setForegroundRole(QPalette::PlaceholderText);
  intro_->setVisible(choices_.size() == 1);
  summary_->setObjectName("proposal_summary");
  summary_->setFont(heading_font());
  steps_->setObjectName("proposal_steps");
  steps_->setTextFormat(Qt::RichText);
  open_title_->setObjectName("proposal_open_title");
  open_title_->setFont(heading_font());
  open_title_->set_text(tr("What stays open"));
  open_->setObjectName("proposal_open");
  open_->setTextFormat(Qt::RichText);
  findings_->setObjectName("proposal_findings");
  take_->setObjectName("proposal_take");
  take_->setToolTip(tr("Takes what is shown as one step, which undo takes back"));
  leave_->setObjectName("proposal_leave");
  leave_->setToolTip(tr("Leaves the build as it was"));
  leave_->setAutoDefault(false);

  auto* box = new QWidget;
  auto* words = new QVBoxLayout(box);
  words->setContentsMargins(0, 0, gap, 0);
  words->setSpacing(gap);
  for (QWidget* each :
       std::initializer_list<QWidget*>{intro_, summary_, steps_, open_title_, open_, findings_})
    words->addWidget(each);
  words->addStretch(1);
  auto* area = new QScrollArea(this);
  area->setWidgetResizable(true);
  area->setFrameShape(QFrame::NoFrame);
  area->setFocusPolicy(Qt::NoFocus);
  area->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
  area->setWidget(box);
  auto* foot = new QHBoxLayout;
  foot->addStretch(1);
  foot->addWidget(take_);
  foot->addWidget(leave_);
  auto* all = new QVBoxLayout(this);
  all->setContentsMargins(wide_gap, wide_gap, wide_gap, wide_gap);
  all->setSpacing(wide_gap);
  all->addWidget(which_);
  all->addWidget(area, 1);
  all->addLayout(foot);
  constexpr int height_px = 420;
  resize(width_px, height_px);

  connect(which_, &QComboBox::currentIndexChanged, this, &ProposalDialog::propose);
  connect(take_, &QPushButton::clicked, this, &ProposalDialog::take);
  connect(leave_, &QPushButton::clicked, this, &QDialog::reject);
  propose(first);
}

ProposalDialog::~ProposalDialog() {
  session_.cancel_preview();
}

void ProposalDialog::done(int result) {
  session_.cancel_preview();
  QDialog::done(result);
}

void ProposalDialog::open_beside(const QWidget& window) {
  constexpr int from_edge = 10;
  const int height_px = std::max(window.height() / 2, minimumSizeHint().height());
  resize(width_px, height_px);
  move(window.mapToGlobal(
      QPoint(window.width() - width_px - from_edge, window.height() - height_px - 4 * from_edge)));
  open();
}

ProposalDialog::Counts ProposalDialog::counts(const Session& session) {
  // What the checks say of money is known only once the purchase has been planned.
  static_cast<void>(session.purchase());
  Counts counts{};
  for (const check::Finding& finding : session.findings())
    if (!finding.waived)
      ++counts.at(static_cast<std::size_t>(finding.severity));
  return counts;
}

void ProposalDialog::propose(int choice) {
  proposal_ = choices_.at(static_cast<std::size_t>(choice)).make(base_);
  if (proposal_.does_something())
    session_.preview(proposal_.build);
  else
    session_.cancel_preview();
  const bool shown = session_.previewing();
  summary_->set_text(proposal_.does_something() ? QString::fromStdString(proposal_.title)
                     : proposal_.open.empty()   ? tr("Nothing is missing here")
                                                : tr("There is nothing that could be done here"));
  steps_->set_text(numbered(proposal_.steps));
  steps_->setVisible(proposal_.does_something());
  open_->set_text(bulleted(proposal_.open));
  open_->setVisible(!proposal_.open.empty());
  open_title_->setVisible(!proposal_.open.empty());
  if (shown) {
    const Counts after = counts(session_);
    QStringList lines;
    for (const auto severity : {check::Severity::stop, check::Severity::caution, check::Severity::note}) {
      const auto at = static_cast<std::size_t>(severity);
      lines << severity_count(severity, after.at(at)) +
                   (after.at(at) == before_.at(at) ? QString() : tr(" (now %1)").arg(before_.at(at)));
    }
    findings_->set_text(tr("With it the checks say: %1.").arg(lines.join(", ")));
  } else if (proposal_.does_something()) {
    const auto why = build::validate(proposal_.build);
    findings_->set_text(why ? QString::fromStdString(why->text()) : tr("It changes nothing."));
  }
  findings_->setVisible(proposal_.does_something());
  take_->setEnabled(shown);
  (shown ? take_ : leave_)->setDefault(true);
}

void ProposalDialog::take() {
  session_.commit_preview(QString::fromStdString(proposal_.title));
  accept();
}

} // namespace bellmouth::ui
