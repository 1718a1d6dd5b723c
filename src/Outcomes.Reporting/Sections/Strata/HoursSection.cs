using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Reporting.Drawings;

namespace Outcomes.Reporting.Page;

/// <summary>Nights and weekends: headline measures by the hours and days that records tell.</summary>
internal static class HoursSection
{
    public static void Write(Html html, Figures model, ImmutableArray<Chart> charts)
    {
        if (!IsThere(model))
            return;
        var section = model.Section("hours")!;
        html.Add($"""<section aria-labelledby="hours"><h2 id="hours">Nights and weekends</h2>""");
        html.Add($"<p>{Wording.Span(section.From, section.To)}. Out of hours is before 08:00 or from 18:00, and weekends and public "
            + $"holidays as far as records tell the day. Each figure is met out of eligible with its 95{Wording.Space}% interval.</p>");
        MeasuresSection.Figure(html, charts, section.Id);
        foreach (var field in section.Measures.SelectMany(measure => measure.Strata).Where(stratum => stratum.Field != "out_of_hours")
            .GroupBy(stratum => stratum.Field))
            Levels(html, section, field.Key, field.First().Title);
        DifferenceTable.Write(html, "t-hours", "Out of hours against in hours", section, "out_of_hours", "Out of hours",
            "In hours", "out of hours");
        DesaturationSection.Lacking(html, section);
        html.Add($"</section>\n");
    }

    public static bool IsThere(Figures model) =>
        model.Section("hours") is { } section && section.Measures.Any(measure => !measure.Strata.IsEmpty);

    // A column a level: few levels, many measures.
    private static void Levels(Html html, StratifiedSection section, string field, string title)
    {
        var measures = section.Measures.Select(measure => (Measure: measure,
            Stratum: measure.Strata.FirstOrDefault(stratum => stratum.Field == field))).Where(pair => pair.Stratum is not null).ToArray();
        string[] levels = [.. measures.SelectMany(pair => pair.Stratum!.Levels.Select(level => level.Level)).Distinct()
            .OrderBy(level => level is StratumFigures.Other ? 2 : level is Measures.CountRow.MissingLevel ? 1 : 0)];
        TableColumn[] columns = ["Measure", .. levels.Select(level => new TableColumn(Wording.Level(level)))];
        Table.Write(html, $"t-hours-{Encode.Slug(field)}", $"Headline measures by {title.ToLowerInvariant()}", columns, () =>
        {
            foreach (var (measure, stratum) in measures)
                Table.Row(html, columns,
                    [measure.Measure.Title, .. levels.Select(level => DifferenceTable.Level(measure, stratum!, level))]);
        }, "wordy");
    }
}
