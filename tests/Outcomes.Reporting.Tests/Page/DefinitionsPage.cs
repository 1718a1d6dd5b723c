using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using Outcomes.Measures.Catalogue;
using Outcomes.Reporting.Page;

namespace Outcomes.Tests.Reporting.Page;

/// <summary>
/// docs/definitions.md: each shipped measure beside the definition of its source, and each flag, made from the catalogue.
/// </summary>
internal static class DefinitionsPage
{
    private const string Head = """
        # Definitions and their sources

        Each shipped measure beside the definition that its source gives, in short and in our words, with what differs here and why.
        Sources are cited as author, year and journal. Most were read as abstract, table or protocol, not in full; what was not read is
        marked "from memory". This page is made from the catalogue, and a test holds it to that. For audit, teaching and improvement;
        never a target for one case.

        What holds for all: adults are 16 years or older, most papers say 18. "The declared window" is the one that a source states for its
        lowest values; papers watch to 2, 30 or 60 minutes, and a longer window finds more. A record that does not say something is
        missing and never a no, save in measures of what was done. Published figures come from other patients: context, no target.

        """;

    private const string Flags = """

        ## Flags

        Tiers are common practice of review meetings, so that the sources are those of the conditions. A patient who was in cardiac arrest
        before induction is counted in tier 3: flags about saturation, pressure, arrest and death leave that patient out. The arrest came
        first, most such patients die of its cause, and many hospitals review such deaths in a meeting of their own; one tier 1 case for
        each would bury those in which the airway mattered. What the airway can have caused still fires: a failed intubation,
        front-of-neck access, an oesophageal tube recognised late, a drug error, or harm judged to have come from the procedure.

        | Flag | Tier | Fires when | Source | Id |
        | --- | --- | --- | --- | --- |

        """;

    /// <summary>The measures whose source defines them.</summary>
    internal static ImmutableArray<Measure> Compared { get; } =
        [.. MeasureCatalogue.Shipped.Where(measure => measure.AsPublished.Length > 0)];

    public static string Text()
    {
        var page = new StringBuilder(Head.ReplaceLineEndings("\n"));
        var same = Compared.Count(measure => measure.Difference == "none");
        page.Append(CultureInfo.InvariantCulture, $"Of {MeasureCatalogue.Shipped.Length} measures, {same} are defined as their source "
            + $"defines them, {Compared.Length - same} differ and say why, and for {MeasureCatalogue.Shipped.Length - Compared.Length} "
            + $"no published definition was found.\n");
        foreach (var group in Compared.OrderBy(measure => measure.Order).GroupBy(measure => measure.Group).OrderBy(group => group.Key))
        {
            page.Append(CultureInfo.InvariantCulture, $"\n## {MeasureGroups.Title(group.Key)}\n\n");
            page.Append("| Measure | Source | As published | Here | Difference and why |\n| --- | --- | --- | --- | --- |\n");
            foreach (var measure in group)
                page.Append(CultureInfo.InvariantCulture,
                    $"| {measure.Title} (`{measure.Id}`) | {measure.Source} | {measure.AsPublished} | "
                        + $"{Here(measure)} | {measure.Difference} |\n");
        }

        page.Append("\n## Without a published definition\n\n| Measure | Source | Id |\n| --- | --- | --- |\n");
        foreach (var measure in MeasureCatalogue.Shipped.Except(Compared).OrderBy(measure => measure.Group)
            .ThenBy(measure => measure.Order))
            page.Append(CultureInfo.InvariantCulture, $"| {measure.Title} | {measure.Source} | `{measure.Id}` |\n");
        page.Append(Flags.ReplaceLineEndings("\n"));
        foreach (var flag in FlagFile.Shipped)
            page.Append(CultureInfo.InvariantCulture,
                $"| {flag.Title} | {Word(flag.Tier)} | `{flag.When}` | {flag.Source} | `{flag.Id}` |\n");
        return page.ToString();
    }

    private static string Here(Measure measure) =>
        $"`{(measure.Kind == MeasureKind.Proportion ? measure.Met : measure.Value).Trim()}`; {MeasuresPage.Population(measure)}";

    private static string Word(Tier tier) =>
        tier switch { Tier.One => "1", Tier.Two => "2", Tier.Three => "3", Tier.Learning => "learning", _ => "data" };
}
