using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Reporting.Drawings;

namespace Outcomes.Reporting.Page;

/// <summary>A section that the catalogue defines: its question, its chart, its tables, and what they cannot tell.</summary>
internal static class AnsweredSection
{
    /// <summary>The sections of one place, in the order of the catalogue.</summary>
    public static IEnumerable<SectionFigures> At(Figures model, SectionPlace place) =>
        model.Sections.Where(section => section.Definition.Place == place && (section.IsAnswered || section.IsTooFew));

    public static void WriteAll(Html html, Figures model, ImmutableArray<Chart> charts, SectionPlace place)
    {
        foreach (var section in At(model, place))
            Write(html, section, model.Titles, charts);
    }

    /// <summary>Sections of which nothing can be shown, with what is not collected; null where there is none.</summary>
    public static string? NotAnswered(Figures model)
    {
        var missing = model.Sections.Where(
            section => !section.IsAnswered && !section.IsTooFew && section.Definition.Agreement.IsEmpty).Select(section =>
            section.NotCollected.IsEmpty
                ? section.Definition.Title
                : $"{section.Definition.Title} ({string.Join("; ", section.NotCollected.Select(model.Titles.Column))} not collected)")
            .ToArray();
        return missing.Length == 0 ? null : $"Sections without figures: {string.Join("; ", missing)}.";
    }

    private static void Write(Html html, SectionFigures section, Titles titles, ImmutableArray<Chart> charts)
    {
        var (id, definition) = (section.Id, section.Definition);
        html.Add($"""<section aria-labelledby="{id}"><h2 id="{id}">{definition.Title}</h2>""");
        html.Add($"<p><strong>{definition.Question}</strong> {Wording.Span(section.From, section.To)}. {definition.Note}</p>");
        if (section.IsTooFew)
        {
            html.Add($"<p>{StrataWording.TooFew}</p></section>\n");
            return;
        }

        MeasuresSection.Figure(html, charts, id);
        Strata(html, section, titles);
        if (StrataWording.LeftOut(section) is { } left)
            html.Add($"<p>{left}</p>");
        DifferenceTable.Write(html, section, titles);
        QuantityTable.Write(html, section, titles);
        ListedTable.Write(html, section, titles);
        AgreementTables.Write(html, section);
        foreach (var trend in section.Trends)
            html.Add($"<p>{StrataWording.Said(trend, titles)}</p>");
        if (!section.Measures.IsEmpty)
            html.Add($"<p>{StrataWording.CannotTell}</p>");
        if (!section.NotCollected.IsEmpty)
            html.Add($"<p>Not collected: {string.Join("; ", section.NotCollected.Select(titles.Column))}.</p>");
        html.Add($"</section>\n");
    }

    // The first stratum is open; the others, and what has a table of comparison too, are a click away.
    private static void Strata(Html html, SectionFigures section, Titles titles)
    {
        var fields = section.Measures.SelectMany(measure => measure.Strata.Select(stratum => (measure.Measure, Stratum: stratum)))
            .GroupBy(part => part.Stratum.Field);
        foreach (var (at, field) in fields.Index())
        {
            var title = $"By {Readable.WithinSentence(titles.Column(field.Key))}";
            var folded = at > 0 || field.Key == section.Definition.Compare?.By;
            if (folded)
                html.Add($"""<details class="more"><summary>{title}</summary>""");
            StratumTable.Write(html, $"t-{section.Id}-{Encode.Slug(field.Key)}", title, titles, field);
            if (folded)
                html.Add($"</details>");
        }
    }
}
