// SPDX-License-Identifier: GPL-3.0-or-later
// Export as ISO 10303-21.
#include <BRep_Builder.hxx>
#include <Interface_Static.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <Quantity_Color.hxx>
#include <STEPCAFControl_Writer.hxx>
#include <StepData_Protocol.hxx>
#include <StepData_StepModel.hxx>
#include <StepData_StepWriter.hxx>
#include <TDF_Label.hxx>
#include <TDataStd_Name.hxx>
#include <TDocStd_Document.hxx>
#include <TopLoc_Location.hxx>
#include <XCAFApp_Application.hxx>
#include <XCAFDoc_ColorTool.hxx>
#include <XCAFDoc_DocumentTool.hxx>
#include <XCAFDoc_ShapeTool.hxx>
#include <cmath>
#include <map>
#include <sstream>
#include <stdexcept>

#include "engine/shape/kernel/kernel.h"
#include "engine/shape/kernel/shapes.h"

namespace seamwright::shape::kernel {

namespace {

// Groups get hues of one lightness, as far apart as their number allows (golden angle).
Quantity_Color colour_of(std::size_t group) {
  const double hue = std::fmod(210 + 137.508 * static_cast<double>(group), 360.0);
  return Quantity_Color(hue, 0.45, 0.35, Quantity_TOC_HLS);
}

// The first so many bodies as one that has the frame's name, and the others.
std::vector<NamedBody> with_fused(const std::string& name, const std::vector<NamedBody>& bodies, std::size_t count) {
  if (count == 0) return bodies;
  std::vector<TopoDS_Shape> shapes;
  for (std::size_t i = 0; i < count; ++i) shapes.push_back(shape_of(bodies.at(i).body));
  std::vector<NamedBody> out{{name, "", text_of(fuse_all(shapes))}};
  out.insert(out.end(), bodies.begin() + static_cast<std::ptrdiff_t>(count), bodies.end());
  return out;
}

}  // namespace

std::string step_file(const std::string& name, const std::vector<NamedBody>& bodies, std::size_t fused) {
  ::Message::DefaultMessenger()->RemovePrinters(Message_Printer::get_type_descriptor());
  Handle(TDocStd_Document) document;
  const Handle(XCAFApp_Application) application = XCAFApp_Application::GetApplication();
  application->NewDocument("MDTV-XCAF", document);
  const Handle(XCAFDoc_ShapeTool) shapes = XCAFDoc_DocumentTool::ShapeTool(document->Main());
  const Handle(XCAFDoc_ColorTool) colours = XCAFDoc_DocumentTool::ColorTool(document->Main());
  const TDF_Label assembly = shapes->NewShape();
  TDataStd_Name::Set(assembly, TCollection_ExtendedString(name.c_str(), true));
  std::map<std::string, std::size_t> groups;
  for (const NamedBody& b : with_fused(name, bodies, fused)) {
    const TDF_Label part = shapes->AddShape(shape_of(b.body), false);
    TDataStd_Name::Set(part, TCollection_ExtendedString(b.id.c_str(), true));
    colours->SetColor(part, colour_of(groups.try_emplace(b.colour, groups.size()).first->second), XCAFDoc_ColorGen);
    const TDF_Label used = shapes->AddComponent(assembly, part, TopLoc_Location());
    TDataStd_Name::Set(used, TCollection_ExtendedString(b.id.c_str(), true));
  }
  shapes->UpdateAssemblies();
  STEPCAFControl_Writer writer;
  Interface_Static::SetCVal("write.step.unit", "MM");
  writer.SetNameMode(true);
  writer.SetColorMode(true);
  if (!writer.Transfer(document, STEPControl_AsIs)) throw std::runtime_error("the file could not be made");
  const Handle(StepData_StepModel) model = writer.ChangeWriter().Model();
  StepData_StepWriter text(model);
  text.SendModel(Handle(StepData_Protocol)::DownCast(model->Protocol()));
  std::ostringstream out;
  if (!text.Print(out)) throw std::runtime_error("the file could not be made");
  return out.str();
}

}  // namespace seamwright::shape::kernel
