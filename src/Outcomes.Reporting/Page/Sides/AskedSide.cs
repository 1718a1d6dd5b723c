using Outcomes.Analysis;

namespace Outcomes.Reporting.Page;

/// <summary>
/// What the department asked itself: its declared changes, what its meetings decided, and the cases that wait for the next.
/// </summary>
internal static class AskedSide
{
    public static void Write(Html html, Figures model)
    {
        ChangesSection.WriteShort(html, model);
        ActionsSection.WriteShort(html, model);
        ReviewSection.WriteShort(html, model);
        if (!model.Changes.IsEmpty)
            html.Add($"""<p class="more"><a href="{Appendix.File}#changes">More in the appendix</a></p>""");
    }
}
