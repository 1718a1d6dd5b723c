using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;

namespace Outcomes.Reporting.Page;

/// <summary>Measures by the levels of one field: a row a level, grouped by measure.</summary>
internal static class StratumTable
{
    private static readonly TableColumn[] Columns =
    [
        "Measure", "Level", "n/N", "Estimate (95 % interval)", "Missing",
    ];

    private static readonly TableColumn[] WithKnown = [.. Columns, "Known answers only"];

    public static void Write(
        Html html, string id, string caption, Titles titles, IEnumerable<(Measure Measure, StratumFigures Stratum)> parts)
    {
        var rows = parts.ToArray();
        // Where what is not recorded counts as not done, the reading of known answers stands beside it.
        var known = rows.Any(part => part.Stratum.Levels.Any(level => level.Known is { Eligible: > 0 }));
        Table.Write(html, id, caption, known ? WithKnown : Columns, () =>
        {
            foreach (var (measure, stratum) in rows)
                foreach (var (i, level) in stratum.Levels.Index())
                {
                    html.Add($"<tr{new Markup(i == 0 ? " class=\"first\"" : "")}>");
                    if (i == 0)
                        html.Add($"""<th scope="rowgroup" rowspan="{Wording.Number(stratum.Levels.Length)}">{measure.Title}</th>""");
                    Cells(html, LevelWording.Of(titles, stratum.Field, level), level, measure.Per);
                    if (known)
                        html.Add($"<td>{Known(level, measure.Per)}</td>");
                    html.Add($"</tr>");
                }
        }, "strata");
        if (rows.Any(part => part.Stratum.Levels.Any(level =>
            VaryingMonths.IsWider(level.Estimate) || VaryingMonths.IsWider(level.KnownEstimate))))
            html.Add($"<p>{Wording.StarExplained}</p>");
    }

    // Numbers stand to the right by the table's style: a class on each of thousands of cells would be a tenth of the page.
    private static void Cells(Html html, string name, LevelFigures level, int per)
    {
        html.Add($"<td>{name}</td><td>{SummarySection.Fraction(level.Count)}</td>"
            + $"<td>{Wording.Estimate(level.Estimate, per)}</td><td>{Wording.Number(level.Count.Missing)}</td>");
    }

    private static string Known(LevelFigures level, int per) =>
        level.Known is { Eligible: > 0 } known ? StrataWording.Cell(known, level.KnownEstimate, per) : "";
}
