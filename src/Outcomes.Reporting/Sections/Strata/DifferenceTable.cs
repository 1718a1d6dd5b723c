using Outcomes.Analysis;
using Outcomes.Measures;

namespace Outcomes.Reporting.Page;

/// <summary>Two levels side by side, a row a measure: each with its interval, their difference, and what it says.</summary>
internal static class DifferenceTable
{
    /// <summary>The measures of a section that are compared, without what only the appendix has room for.</summary>
    public static void WriteShort(Html html, SectionFigures section, Titles titles)
    {
        if (section.Definition.Compare is not { } compare || section.Differences.IsEmpty)
            return;
        TableColumn[] columns =
            ["Measure", titles.Level(compare.By, "yes"), titles.Level(compare.By, "no"), "Difference (95 % interval)", "What it says"];
        Table.Write(html, $"t-{section.Id}", $"Compared: {titles.Column(compare.By)}", columns, () =>
        {
            foreach (var each in section.Differences)
            {
                var measure = section.Measures.First(measure => measure.Measure.Id == each.Measure.Id);
                var found = Of(measure, compare.By)!;
                Table.Row(html, columns, each.Measure.Title, Level(measure, found, "yes"), Level(measure, found, "no"),
                    ChangeWording.Difference(each.Difference), StrataWording.Said(each, titles));
            }
        }, "wordy");
        html.Add($"<p>{StrataWording.Looks(section.Differences.Length)}</p>");
    }

    /// <summary>The measures of a section that are compared.</summary>
    public static void Write(Html html, SectionFigures section, Titles titles)
    {
        if (section.Definition.Compare is not { } compare || section.Measures.All(measure => Of(measure, compare.By) is null))
            return;
        TableColumn[] columns =
        [
            "Measure", titles.Level(compare.By, "yes"), titles.Level(compare.By, "no"), "Not recorded", "Difference (95 % interval)",
            "Odds ratio within levels of", "What it says"
        ];
        Table.Write(html, $"t-{section.Id}", $"Compared: {titles.Column(compare.By)}", columns, () =>
        {
            foreach (var measure in section.Measures)
            {
                if (Of(measure, compare.By) is not { } found
                    || (!compare.Measures.IsEmpty && !compare.Measures.Contains(measure.Measure.Id)))
                    continue;
                var difference = section.Differences.FirstOrDefault(each => each.Measure.Id == measure.Measure.Id);
                Table.Row(html, columns, measure.Measure.Title, Level(measure, found, "yes"), Level(measure, found, "no"),
                    Rest(measure, found, titles), difference is null ? "" : ChangeWording.Difference(difference.Difference),
                    difference is null ? "" : StrataWording.Within(difference, titles),
                    difference is null ? "Too few records on one side." : StrataWording.Said(difference, titles));
            }
        }, "wordy");
        html.Add($"<p>{StrataWording.Looks(section.Differences.Length)} {StrataWording.WithinExplained}</p>");
    }

    private static StratumFigures? Of(StratifiedMeasure measure, string field) =>
        measure.Strata.FirstOrDefault(stratum => stratum.Field == field);

    private static string Level(StratifiedMeasure measure, StratumFigures stratum, string level) =>
        stratum.Levels.FirstOrDefault(each => each.Level == level) is { } found
            ? $"{StrataWording.Cell(found, measure.Measure.Per)}"
                + $"{(found.Count.Missing == 0 ? "" : $"; {Wording.Number(found.Count.Missing)} missing")}"
            : "";

    // Records that do not say, and levels that were merged.
    private static string Rest(StratifiedMeasure measure, StratumFigures stratum, Titles titles) =>
        string.Join("; ", stratum.Levels.Where(level => level.Level is not ("yes" or "no"))
            .Select(level => level.Level == StratumFigures.Other
                ? $"{LevelWording.Of(titles, stratum.Field, level)}: {Wording.Fraction(level.Count)}"
                : StrataWording.Cell(level, measure.Measure.Per)));
}
