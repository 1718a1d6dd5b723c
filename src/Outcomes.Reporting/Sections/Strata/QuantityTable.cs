using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Records;

namespace Outcomes.Reporting.Page;

/// <summary>
/// The quantities of a section by its strata. Medians have no interval of their difference here; two of their own must do.
/// </summary>
internal static class QuantityTable
{
    private static readonly TableColumn[] Columns = ["Quantity", "Level", .. QuantityCells.Columns];

    public static void Write(Html html, SectionFigures section, Titles titles)
    {
        if (!section.Quantities.IsEmpty)
            Write(html, $"t-{section.Id}-quantities", $"{section.Definition.Title}: quantities", section.Quantities, titles);
    }

    public static void Write(
        Html html, string id, string caption, IReadOnlyCollection<StratifiedQuantity> quantities, Titles titles)
    {
        Table.Write(html, id, caption, Columns, () =>
        {
            foreach (var quantity in quantities)
                foreach (var (i, level) in quantity.Levels.Index())
                {
                    var rows = Wording.Number(quantity.Levels.Length);
                    var cells = QuantityCells.Of(level.Summary, level.N, level.Missing, level.Unrecordable);
                    html.Add($"<tr{new Markup(i == 0 ? " class=\"first\"" : "")}>");
                    if (i == 0)
                        html.Add(
                            $"""<th scope="rowgroup" rowspan="{rows}">{Heading(quantity, titles)}</th>""");
                    html.Add($"""<td>{LevelWording.Of(titles, quantity.Field, level.Level)}</td><td class="n">{cells[0]}</td>""");
                    html.Add($"""<td class="n">{cells[1]}</td><td class="n">{cells[2]}</td></tr>{"\n"}""");
                }
        }, "strata");
        html.Add($"<p>Medians whose intervals overlap may still differ.</p>");
    }

    private static string Heading(StratifiedQuantity quantity, Titles titles) =>
        $"{quantity.Measure.Title}, by {Readable.WithinSentence(titles.Column(quantity.Field))}";
}
