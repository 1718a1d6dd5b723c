using Outcomes.Analysis;

namespace Outcomes.Reporting.Page;

/// <summary>Two levels side by side, a row a measure: each with its interval, their difference, and what it says.</summary>
internal static class DifferenceTable
{
    /// <param name="html">The page.</param>
    /// <param name="id">Unique in the page.</param>
    /// <param name="caption">What it shows.</param>
    /// <param name="section">The section.</param>
    /// <param name="field">The yes/no field that is compared.</param>
    /// <param name="yes">Heading of its first level.</param>
    /// <param name="no">Heading of its second.</param>
    /// <param name="words">Where the first level is, in a sentence: <c>out of hours</c>.</param>
    public static void Write(
        Html html, string id, string caption, StratifiedSection section, string field, string yes, string no, string words)
    {
        TableColumn[] columns =
        [
            "Measure", yes, no, "Not recorded", "Difference (95 % interval)", "Odds ratio within levels of", "What it says"
        ];
        Table.Write(html, id, caption, columns, () =>
        {
            foreach (var measure in section.Measures)
            {
                if (measure.Strata.FirstOrDefault(stratum => stratum.Field == field) is not { } found)
                    continue;
                var difference = section.Differences.FirstOrDefault(each => each.Measure.Id == measure.Measure.Id);
                Table.Row(html, columns, measure.Measure.Title, Level(measure, found, "yes"), Level(measure, found, "no"),
                    Rest(measure, found), difference is null ? "" : ChangeWording.Difference(difference.Difference), difference is null
                        ? ""
                        : StrataWording.Within(difference), difference is null
                            ? "Too few records on one side."
                            : StrataWording.Said(difference, words));
            }
        }, "wordy");
        html.Add($"<p>{StrataWording.Looks(section.Differences.Length)} {StrataWording.WithinExplained} {StrataWording.CannotTell}</p>");
    }

    /// <summary>One level of a measure.</summary>
    public static string Level(StratifiedMeasure measure, StratumFigures stratum, string level) =>
        stratum.Levels.FirstOrDefault(each => each.Level == level) is { } found
            ? $"{StrataWording.Cell(found, measure.Measure.Per)}"
                + $"{(found.Count.Missing == 0 ? "" : $"; {Wording.Number(found.Count.Missing)} missing")}"
            : "";

    // Records that do not say, and levels that were merged.
    private static string Rest(StratifiedMeasure measure, StratumFigures stratum) =>
        string.Join("; ", stratum.Levels.Where(level => level.Level is not ("yes" or "no"))
            .Select(level => level.Level == StratumFigures.Other
                ? $"{Wording.Level(level)}: {Wording.Fraction(level.Count)}"
                : StrataWording.Cell(level, measure.Measure.Per)));
}
