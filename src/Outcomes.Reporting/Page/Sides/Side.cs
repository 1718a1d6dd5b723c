using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;
using Outcomes.Reporting.Drawings;

namespace Outcomes.Reporting.Page;

/// <summary>A side of the report: it begins a sheet where the report is printed.</summary>
/// <param name="Id">Its address on the page.</param>
/// <param name="Title">Its heading.</param>
/// <param name="Write">Writes what stands under the heading.</param>
internal sealed record Side(string Id, string Title, Action<Html> Write)
{
    private const int ChartsOnASide = 3;

    /// <summary>The sides of a report, in the order of reading; those without anything to show are left out.</summary>
    public static IEnumerable<Side> All(Figures model, ImmutableArray<Chart> charts) =>
    [
        new(FirstPage.Id, "In short", html => FirstPage.Write(html, model, Small(model, charts))),
        .. Headline(model, charts),
        .. Sections(model, charts),
        new("asked", "Declared changes and actions", html => AskedSide.Write(html, model)),
        .. Chosen(model, charts),
        new("data", "Data quality, methods and cautions", html => DataSide.Write(html, model)),
    ];

    private static ImmutableDictionary<string, Chart> Small(Figures model, ImmutableArray<Chart> charts) =>
        charts.IsEmpty ? ImmutableDictionary<string, Chart>.Empty : Charts.Small(model);

    private static IEnumerable<Side> Headline(Figures model, ImmutableArray<Chart> charts)
    {
        var measures = model.Measures.Where(measure => measure is { Headline: true, NotCollected: null, RunChart: not null }).ToArray();
        var sides = measures.Chunk(ChartsOnASide).ToArray();
        return sides.Select((part, i) => new Side($"headline-{(char)('a' + i)}",
            sides.Length == 1 ? "Headline measures" : $"Headline measures, {Wording.Number(i + 1)} of {Wording.Number(sides.Length)}",
            html => HeadlineSide.Write(html, model, part, charts, withKey: i == 0)));
    }

    // The ladder opens a side; the chart of another section stands below what the side lists.
    private static IEnumerable<Side> Sections(Figures model, ImmutableArray<Chart> charts) => AnsweredSection.Shown(model)
        .Where(section => section.Definition.Place == SectionPlace.Report)
        .Select(section => new Side($"side-{section.Id}", section.Definition.Title, html =>
        {
            var drawing = section.Definition.Drawing;
            if (drawing == SectionDefinition.Ladder && model.Ladder is { } ladder)
                LadderSection.WriteShort(html, model, ladder, charts);
            AnsweredSection.WriteSide(html, section, model.Titles, charts);
            if (drawing is not (null or SectionDefinition.Ladder))
                MeasuresSection.Figure(html, charts, drawing);
            html.Add($"""<p class="more"><a href="{Appendix.File}#{section.Id}">More in the appendix</a></p>""");
        }));

    private static IEnumerable<Side> Chosen(Figures model, ImmutableArray<Chart> charts) => model.Chosen is not { } chosen ? []
        : [new("chosen", chosen.Section?.Definition.Title ?? "Were all procedures recorded?",
            html => ChosenSide.Write(html, model, chosen, charts))];
}
