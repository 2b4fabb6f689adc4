// SPDX-License-Identifier: GPL-3.0-or-later
// The few dialogs: settings, help, about, a document to read, what a draft would change.
#pragma once

#include <QString>

#include "app/desktop/drafts.h"
#include "reports/content/blocks.h"

class QWidget;

namespace seamwright::desktop {

/// A window beside the desk; not in its way.
void show_document(QWidget* parent, const reports::Document& document);
void show_help(QWidget* parent);
void show_about(QWidget* parent);
void show_draft(QWidget* parent, const Draft& draft);

/// A few measures for a job to refine, and where to put it; writes it. The folder, "" when nothing was made.
QString ask_new_job(QWidget* parent);

/// Language and style; true when something changed.
bool ask_settings(QWidget* parent);
/// Text to copy into a report of a fault: versions, data, platform.
QString version_block();

enum class CloseChoice { save, discard, cancel };
CloseChoice ask_close(QWidget* parent, const QString& job);
/// The files were written by another program since they were read.
bool ask_overwrite(QWidget* parent);

}  // namespace seamwright::desktop
