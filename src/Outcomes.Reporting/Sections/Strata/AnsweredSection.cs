using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Records;
using Outcomes.Reporting.Drawings;

namespace Outcomes.Reporting.Page;

/// <summary>A section that the catalogue defines: its question, its chart, its tables, and what they cannot tell.</summary>
internal static class AnsweredSection
{
    /// <summary>The sections that have something to show, in the order of the catalogue.</summary>
    public static IEnumerable<SectionFigures> Shown(Figures model) =>
        model.Sections.Where(section => section.IsAnswered || section.IsTooFew);

    public static void WriteAll(Html html, Figures model, ImmutableArray<Chart> charts)
    {
        foreach (var section in Shown(model))
            Write(html, section, model.Titles, charts);
    }

    /// <summary>
    /// What of a section has room on a side of the report: its chart, what it compares, and its first stratum or its list. The appendix has
    /// the rest.
    /// </summary>
    public static void WriteSide(Html html, SectionFigures section, Titles titles, ImmutableArray<Chart> charts)
    {
        Question(html, section);
        MeasuresSection.Figure(html, charts, section.Id);
        DifferenceTable.WriteShort(html, section, titles);
        if (section.Differences.IsEmpty)
            Strata(html, section, titles, most: 1);
        ListedTable.Write(html, section, titles);
        if (!section.Measures.IsEmpty)
            html.Add($"<p>{StrataWording.CannotTell}</p>");
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
        Question(html, section);
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

    private static void Question(Html html, SectionFigures section) => html.Add($"<p><strong>{section.Definition.Question}</strong> "
        + $"{Wording.Span(section.From, section.To)}. {section.Definition.Note}</p>");

    // The first stratum is open; the others, and what has a table of comparison too, are a click away.
    private static void Strata(Html html, SectionFigures section, Titles titles, int most = int.MaxValue)
    {
        var fields = section.Measures.SelectMany(measure => measure.Strata.Select(stratum => (measure.Measure, Stratum: stratum)))
            .GroupBy(part => part.Stratum.Field);
        foreach (var (at, field) in fields.Take(most).Index())
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
