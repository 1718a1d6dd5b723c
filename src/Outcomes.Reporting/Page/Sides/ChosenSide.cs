using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;
using Outcomes.Reporting.Drawings;

namespace Outcomes.Reporting.Page;

/// <summary>The section that this month makes worth reading, under the rule that chose it.</summary>
internal static class ChosenSide
{
    private static readonly TableColumn[] Columns = ["Section", "Compared", "Clearest difference", "Medians"];

    public static void Write(Html html, Figures model, ChosenSection chosen, ImmutableArray<Chart> charts)
    {
        html.Add($"""<p class="sub">{ChosenWording.Why(chosen, model)}</p>""");
        if (chosen.Section is not { } section)
        {
            CaptureParagraph.Write(html, model);
            return;
        }

        AnsweredSection.WriteSide(html, section, model.Titles, charts);
        html.Add($"""<p class="more"><a href="{Appendix.File}#{section.Id}">More in the appendix</a></p>""");
        Others(html, model, section);
    }

    // What the other sections compare, in a line each: nothing that was looked at is left unsaid.
    private static void Others(Html html, Figures model, SectionFigures chosen)
    {
        SectionFigures[] others = [.. model.Sections.Where(section => section.Definition.Place == SectionPlace.Turn && section != chosen
            && (!section.Differences.IsEmpty || SectionLineWording.Medians(section).Length > 0))];
        if (others.Length == 0)
            return;
        Table.Write(html, "t-others", "Other sections, in full in the appendix", Columns, () =>
        {
            foreach (var other in others)
            {
                html.Add($"""<tr><th scope="row"><a href="{Appendix.File}#{other.Id}">{other.Definition.Title}</a></th>"""
                    + $"<td>{SectionLineWording.Compared(other, model.Titles)}</td><td>{SectionLineWording.Difference(other)}</td>"
                    + $"<td>{SectionLineWording.Medians(other)}</td></tr>\n");
            }
        }, "wordy");
    }
}
