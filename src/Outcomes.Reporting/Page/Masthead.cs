using Outcomes.Analysis;

namespace Outcomes.Reporting.Page;

/// <summary>The head of the page (what, when, for whom) and its foot (made from what).</summary>
internal static class Masthead
{
    /// <param name="html">The page.</param>
    /// <param name="model">The figures.</param>
    /// <param name="title">The page's title.</param>
    /// <param name="contents">Where its links lead, and their words.</param>
    public static void Write(Html html, Figures model, string title, IEnumerable<(string Link, string Title)> contents)
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
        foreach (var (link, name) in contents)
            html.Add($"""<li><a href="{link}">{name}</a></li>""");
        html.Add($"</ul></nav>\n");
    }

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
