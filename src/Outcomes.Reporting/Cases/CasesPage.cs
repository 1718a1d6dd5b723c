using System.Text;
using Outcomes.Analysis;
using Outcomes.Measures.Review;
using Outcomes.Records;
using Outcomes.Reporting.Page;

namespace Outcomes.Reporting.Cases;

/// <summary>The case pack of a month: an index by tier, then a page a case. One self-contained file, never part of the report.</summary>
public static class CasesPage
{
    private static readonly TableColumn[] Columns = ["Case", "Why it is here", "What fired"];

    /// <summary>The whole pack.</summary>
    public static byte[] Utf8(CasePack pack) =>
        Encoding.UTF8.GetBytes(Html(pack, pack?.Cases.Where(each => each.HasPage) ?? [], index: true));

    /// <summary>One case alone.</summary>
    public static byte[] Utf8(CasePack pack, ReviewCase only) => Encoding.UTF8.GetBytes(Html(pack, [only], index: false));

    private static string Html(CasePack pack, IEnumerable<ReviewCase> pages, bool index)
    {
        ArgumentNullException.ThrowIfNull(pack);
        if (pack.Audience != Audience.Department)
            throw new Failure(ExitCode.Definition, "cases are for the department alone; set audience: department");
        var title = $"Cases for review, {Wording.Name(pack.Month)}";
        return PageShell.OfCases($"Confidential · {title} · {pack.PipelineName}",
                "Confidential: department only" + (pack.Invented ? " · invented data" : ""))
            .Write(html => Body(html, title, pack, pages, index));
    }

    private static void Body(Html html, string title, CasePack pack, IEnumerable<ReviewCase> pages, bool index)
    {
        html.Add($"""
            <header class="masthead">{Stamp(pack)}<h1>{title}</h1><p class="lead">{pack.PipelineName} · {Wording.Some(pack.Records, "record")} of the month judged</p></header>
            <main id="main">
            <section class="caution" aria-labelledby="h-read"><h2 id="h-read">Read this first</h2>
            <p>For learning and improvement. <strong>Not a medical device, not for bedside decisions, not for judging an individual.</strong>
            A flag says that a case is worth a look, not that care was wrong. De-identified is not anonymous: keep this file where the records
            are kept. Local policy, local information governance and licensed clinical judgement come first.</p></section>

            """);
        if (index)
            Index(html, pack);
        foreach (var each in pages)
            CasePage.Write(html, pack, CaseView.Write(each, pack));
        html.Add($"</main><footer>{Stamp(pack)}<p>Outcomes {pack.Version}.</p></footer>");
    }

    /// <summary>On every page of the pack.</summary>
    internal static Markup Stamp(CasePack pack) =>
        new("<p class=\"confidential\">Confidential: review cases of the department, do not pass on"
            + (pack.Invented ? " · invented data: no patient, hospital or event here exists" : "") + "</p>");

    private static void Index(Html html, CasePack pack)
    {
        html.Add($"""<section aria-labelledby="index"><h2 id="index">Index</h2>""");
        foreach (var count in pack.Counts)
        {
            html.Add($"<h3>{CaseWording.Name(count.Kind)}: {Wording.Some(count.Cases, "case")}</h3><p>"
                + $"{Sentence(CaseWording.Handling(count.Kind))}</p>");
            var cases = pack.Cases.Where(each => each.Kind == count.Kind).Select(each => CaseView.Write(each, pack)).ToArray();
            if (cases.Length == 0)
                continue;
            Table.Write(html, $"t-kind-{(int)count.Kind}", $"{CaseWording.Name(count.Kind)}", Columns, () =>
            {
                foreach (var each in cases)
                {
                    html.Add($"""<tr><th scope="row" class="id">""");
                    if (each.HasPage)
                        html.Add($"""<a href="#case-{each.Id}">{each.Id}</a>""");
                    else
                        html.Add($"{each.Id}");
                    var facts = each.Flags.SelectMany(flag => flag.Values).Distinct().Select(fact => $"{fact.Title} {fact.Value}");
                    html.Add($"</th><td>{string.Join("; ", Reasons(each))}</td><td>{string.Join("; ", facts)}</td></tr>\n");
                }
            }, "wordy");
        }

        if (!pack.NotRun.IsEmpty)
        {
            html.Add($"<h3>Flags that did not run</h3><ul class=\"prose\">");
            foreach (var flag in pack.NotRun)
                html.Add($"<li><code>{flag.Id}</code>: {DataWording.WhyNot(flag, pack.Titles)}</li>");
            html.Add($"</ul>");
        }

        html.Add($"</section>\n");
    }

    private static IEnumerable<string> Reasons(CaseView each) =>
        each.Kind == CaseKind.Drawn ? each.Flags.Select(flag => flag.Title).Prepend("drawn at random")
        : each.Flags.Select(flag => flag.Title).Concat(each.Late is { } late ? [$"late, of {Wording.Name(late)}"] : []);

    private static string Sentence(string text) => char.ToUpperInvariant(text[0]) + text[1..] + (text[^1] == '?' ? "" : ".");
}
