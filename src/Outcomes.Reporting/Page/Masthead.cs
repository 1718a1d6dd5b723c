using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;

namespace Outcomes.Reporting.Page;

/// <summary>The head of the page (what, when, for whom) and its foot (made from what).</summary>
internal static class Masthead
{
    private static IEnumerable<(string Id, string Title)> Contents(Figures model) =>
    [
        (FirstPage.Id, "In short"), ("period", "Period"), ("verdicts", "Has anything changed?"), (ReviewSection.Id, "For review"),
        (ActionsSection.Id, "Actions"), ("summary", "Summary"), ("changes", "Did our changes help?"), ("measures", "Measure by measure"),
        (ControlSection.Id, "Control charts"), ("rare", "Rare events"), ("ladder", "Plan ladder"),
        .. Answered(model, SectionPlace.Report), ("quality", "Data quality"), ("strata", "Strata"), ("sites", "Between sites"),
        (CaseMixSection.Id, "Case mix"), .. Answered(model, SectionPlace.Appendix), ("definitions", "Definitions"), ("methods", "Methods"),
        ("cautions", "Cautions"),
    ];

    private static IEnumerable<(string Id, string Title)> Answered(Figures model, SectionPlace place) =>
        AnsweredSection.At(model, place).Select(section => (section.Id, section.Definition.Title));

    public static void Write(Html html, Figures model, string title)
    {
        html.Add($"""<header class="masthead"><p class="stamp">{Wording.Audience(model.Audience)}</p>""");
        if (model.Invented)
            html.Add($"""<p class="stamp">invented data: no patient, hospital or event in this report exists</p>""");
        html.Add(
            $"""<h1>{title}</h1><p class="lead">{model.PipelineName} · records from {Wording.Span(model.First, model.Last)}"""
                + $""" · as known on {Wording.Date(model.AsOf)}</p>""");
        if (model.Partial)
            html.Add(
                $"""<p class="note"><strong>Partial month.</strong> """
                    + $"""{Wording.Name(model.Month)} was not over on {Wording.Date(model.AsOf)}: its counts will change.</p>""");
        html.Add($"""</header><nav aria-label="Contents"><ul>""");
        foreach (var (id, name) in Contents(model).Where(part => IsThere(model, part.Id)))
            html.Add($"""<li><a href="#{id}">{name}</a></li>""");
        html.Add($"</ul></nav>\n");
    }

    private static bool IsThere(Figures model, string id) => id switch
    {
        ControlSection.Id => model.ControlCharts is not null,
        "rare" => !model.RareEvents.IsEmpty,
        "sites" => !model.Sites.IsEmpty,
        "verdicts" => model.Measures.Any(measure => measure.Signal is not null),
        ReviewSection.Id => !model.Review.IsEmpty,
        ActionsSection.Id => !model.Actions.IsEmpty,
        "changes" => !model.Changes.IsEmpty,
        CaseMixSection.Id => !model.CaseMix.IsEmpty,
        _ => true,
    };

    public static void Foot(Html html, Figures model)
    {
        html.Add(
            $"""<footer><p class="stamp">{Wording.Audience(model.Audience)}</p>"""
                + $"""<p>Outcomes {model.Version}. Definitions SHA-256 <code>{model.DefinitionsHash}</code>.</p>""");
        if (!model.Inputs.IsEmpty)
        {
            TableColumn[] columns = ["Input", TableColumn.Num("Rows"), "SHA-256"];
            Table.Write(html, "t-inputs", "What this report was made from", columns, () =>
            {
                foreach (var input in model.Inputs)
                    Table.Row(html, columns, input.Name, Wording.Number(input.Rows), input.Sha256);
            }, "hashes");
        }

        html.Add($"</footer>\n");
    }
}
