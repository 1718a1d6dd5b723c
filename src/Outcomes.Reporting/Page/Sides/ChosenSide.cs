using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Reporting.Drawings;

namespace Outcomes.Reporting.Page;

/// <summary>The section that this month makes worth reading, under the rule that chose it.</summary>
internal static class ChosenSide
{
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
    }
}
