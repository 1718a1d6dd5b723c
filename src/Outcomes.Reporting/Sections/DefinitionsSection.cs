using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;

namespace Outcomes.Reporting.Page;

/// <summary>Every measure as it was computed: the condition that is printed is the condition that ran.</summary>
internal static class DefinitionsSection
{
    public static void Write(Html html, Figures model)
    {
        html.Add($"""<section aria-labelledby="definitions"><h2 id="definitions">Definitions</h2>""");
        html.Add($"<p>The conditions are the ones that ran. A condition that needs a value which is missing cannot be judged: the record "
            + $"then counts as missing, never as “no”.</p>");
        html.Add($"""<div class="definitions">""");
        foreach (var group in MeasureGroups.Of(model.Measures))
        {
            html.Add($"<h3 class=\"group\">{MeasureGroups.Title(group.Key)}</h3>");
            foreach (var report in group)
                One(html, report, model.Titles);
        }

        Children(html, model);
        html.Add($"</div></section>\n");
    }

    // Measures that stand in a section about children alone; the others have their definition above, asked of children in their place.
    private static void Children(Html html, Figures model)
    {
        MeasureFigures[] theirs =
        [
            .. model.Sections.SelectMany(section => section.Measures).Select(each => each.Measure)
                .Where(measure => measure.Population == Population.Children
                    && model.Measures.All(report => report.Measure.Id != measure.Id))
                .DistinctBy(measure => measure.Id).Select(measure => new MeasureFigures { Measure = measure }),
        ];
        if (theirs.Length > 0)
            html.Add($"<h3 class=\"group\">Children</h3>");
        foreach (var report in theirs)
            One(html, report, model.Titles);
    }

    private static void One(Html html, MeasureFigures report, Titles titles)
    {
        var measure = report.Measure;
        html.Add($"""<article class="definition"><h4>{measure.Title}</h4><dl>""");
        html.Add($"<div><dt>Name in the tables</dt><dd><code>{measure.Id}</code></dd></div>");
        html.Add($"<div><dt>Eligible</dt><dd><code>{measure.Eligible}</code></dd></div>");
        if (measure.Kind == MeasureKind.Proportion)
            html.Add($"<div><dt>Met</dt><dd><code>{measure.Met}</code></dd></div>");
        else
            html.Add($"<div><dt>Value</dt><dd><code>{measure.Value}</code> {measure.Unit}</dd></div>");
        html.Add($"<div><dt>Missing</dt><dd>{Missing(measure)}</dd></div>");
        Item(html, "Direction", SummarySection.Direction(measure.Direction) is { Length: > 0 } direction
            ? direction
            : "none: context for the others");
        Item(html, "Why", measure.Why);
        Item(html, "Source", measure.Source);
        Item(html, "As published", measure.AsPublished);
        Item(html, "Difference and why", measure.Difference);
        Item(html, "Published elsewhere, as context and never as a target", measure.Published);
        if (!report.RestsOn.IsEmpty)
            Item(html, "Rests on what the pipeline states", CautionsSection.Assumptions(report.RestsOn, titles));

        if (report.NotCollected is { } why)
            Item(html, "No figure", DataWording.WhyNot(why, titles));
        html.Add($"</dl></article>\n");
    }

    private static void Item(Html html, string term, string text)
    {
        if (text.Length > 0)
            html.Add($"<div><dt>{term}</dt><dd>{text}</dd></div>");
    }

    private static string Missing(Measure measure) =>
        (measure.Missing == MissingRule.NotDone
            ? "whether it was done being unknown counts as not done, and the known-only reading stands beside it; "
                + "whether the record is eligible being unknown counts as missing"
            : "left out of met and of eligible, counted, and the bounds printed")
        + (measure.Settled == Settled.Any ? "; the parts are alternative evidence, and one that is known can settle it" : "");
}
