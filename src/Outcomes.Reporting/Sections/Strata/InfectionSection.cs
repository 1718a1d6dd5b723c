using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;
using Outcomes.Reporting.Drawings;

namespace Outcomes.Reporting.Page;

/// <summary>
/// Patients whose infection was suspected or confirmed: headline measures beside the others, and the airborne-precaution items.
/// </summary>
internal static class InfectionSection
{
    /// <summary>What a measure of the bundle names in its condition.</summary>
    private const string Asked = "infection_suspected";

    private static readonly TableColumn[] Columns =
        ["Item", TableColumn.Num("Met / eligible"), "Estimate (95 % interval)", "Of those that say", TableColumn.Num("Missing")];

    public static void Write(Html html, Figures model, ImmutableArray<Chart> charts)
    {
        if (model.Section("infection") is not { } section)
            return;
        html.Add($"""<section aria-labelledby="infection"><h2 id="infection">Infectious cases and their bundle</h2>""");
        if (!section.Measures.Any(measure => measure.Strata.Any(stratum => stratum.Levels.Any(level => level.Level == "yes"))))
        {
            html.Add(
                $"<p>{(section.NotCollected.IsEmpty ? $"No group of patients with suspected or confirmed infection in {Wording.Span(section.From, section.To)} is large enough to be shown." : "No source says whether an infection was suspected or confirmed.")}</p></section>\n");
            return;
        }

        html.Add($"<p>{Wording.Span(section.From, section.To)}. Infection as it was thought at the time, suspected or confirmed.</p>");
        MeasuresSection.Figure(html, charts, section.Id);
        DifferenceTable.Write(html, "t-infection", "Infection suspected or confirmed, against not suspected", section,
            "infection_suspected", "Suspected or confirmed", "Not suspected", "with infection suspected");
        Quantities(html, section);
        Items(html, model);
        html.Add($"</section>\n");
    }

    // Medians have no interval of their difference here; two of their own must do.
    private static void Quantities(Html html, StratifiedSection section)
    {
        var found = section.Quantities.Where(quantity => quantity.Field == Asked).ToArray();
        if (found.Length == 0)
            return;
        TableColumn[] columns = ["Quantity", "Group", .. QuantityCells.Columns];
        Table.Write(html, "t-infection-quantities", "People in the room and time, by infection", columns, () =>
        {
            foreach (var quantity in found)
                foreach (var (i, level) in quantity.Levels.Index())
                {
                    var cells = QuantityCells.Of(level.Summary, level.N, level.Missing);
                    html.Add($"<tr{new Markup(i == 0 ? " class=\"first\"" : "")}>");
                    if (i == 0)
                        html.Add(
                            $"""<th scope="rowgroup" rowspan="{Wording.Number(quantity.Levels.Length)}">{quantity.Measure.Title}</th>""");
                    html.Add(
                        $"""<td>{Group(level.Level)}</td><td class="n">{cells[0]}</td><td class="n">{cells[1]}</td><td class="n">{cells[2]}</td></tr>{"\n"}""");
                }
        }, "strata");
        html.Add($"<p>What precautions cost in time, and how many were exposed. Medians whose intervals overlap may still differ; "
            + $"the groups differ in their patients too, and desaturation stands in the table above. "
            + $"How many people should be in the room is agreed locally: a measure of your own can hold that number.</p>");
    }

    private static string Group(string level) =>
        level switch { "yes" => "suspected or confirmed", "no" => "not suspected", _ => Wording.Level(level) };

    private static void Items(Html html, Figures model)
    {
        var all = model.Measures.Where(measure => measure.Measure.Kind == MeasureKind.Proportion
            && measure.Measure.Eligible.Contains(Asked, StringComparison.Ordinal)).ToArray();
        var items = all.Where(measure => measure is { NotCollected: null, Year.IsEmpty: false }).ToArray();
        if (items.Length > 0)
            Table.Write(html, "t-bundle", "Airborne precautions, item by item", Columns, () =>
            {
                foreach (var item in items)
                    Table.Row(html, Columns, item.Measure.Title, Wording.Fraction(item.Year), Estimate(item.YearEstimate, item.Measure.Per),
                        item.KnownOnly is var (count, estimate)
                            ? $"{Wording.Fraction(count)}{(estimate is null ? "" : $", {Estimate(estimate, item.Measure.Per)}")}"
                            : "", Wording.Number(item.Year.Missing));
            });
        html.Add($"<p>Items of process that are not recorded count as not done, and stand beside the reading of those that say. "
            + $"Asked of cases with suspected or confirmed infection. Local infection-control policy says what was due.</p>");
        if (all.Except(items).ToArray() is { Length: > 0 } others)
            html.Add(
                $"<p>Without figures: {string.Join("; ", others.Select(item => $"{item.Measure.Title} ({(item.NotCollected is { } why ? DataWording.WhyNot(why) : "no record in this period")})"))}.</p>");
    }

    private static string Estimate(Statistics.Estimate? estimate, int per) =>
        estimate is null ? "" : $"{Wording.Rate(estimate.Value, per)} ({Wording.Range(estimate.Lower, estimate.Upper, per)})";
}
