using System.Collections.Immutable;
using System.Text;
using Outcomes.Analysis;
using Outcomes.Reporting.Page;

namespace Outcomes.Reporting.Answers;

/// <summary>
/// The pages of <c>outcomes explore</c>: they work without a script; the script only asks again as soon as something changes.
/// </summary>
public static class ExplorePage
{
    /// <summary>The script of every live page.</summary>
    public static string Script { get; } = EmbeddedFile.Text("explore.js");

    /// <summary>What a browser may do on a live page.</summary>
    public static string Policy { get; } = PageShell.LivePolicy(Script) + "; frame-ancestors 'none'";

    private static readonly (string Link, string Title)[] Contents =
    [
        ("/", "Ask"), ("/quality", "Data quality"), ("/ledger", "Ledger"), ("/unusual", "Unusual records"), ("/cases", "Review cases"),
    ];

    /// <summary>The page that asks and answers.</summary>
    public static byte[] Utf8(ExploreContent content)
    {
        ArgumentNullException.ThrowIfNull(content);
        var title = content.Answer is { } answer ? AnswerWording.Title(answer.Answer.Asked)
            : content.Problem.Length > 0 ? "No answer"
            : "Explore";
        return Live(content.Frame, title, html =>
        {
            if (content.Form is { } form)
                QuestionForm.Write(html, form);
            html.Add($"""<div id="answer" aria-live="polite">""");
            if (content.Problem.Length > 0)
                html.Add($"""<p class="problem" role="alert"><strong>No answer.</strong> {content.Problem}</p>""");
            if (content.Done.Length > 0)
                html.Add($"""<p class="note" role="status">{content.Done}</p>""");
            if (content.Answer is { } view)
            {
                if (content.Looks > 0)
                    html.Add($"""<p class="looks">{AnswerWording.Looks(content.Looks)}</p>""");
                AnswerSection.Write(html, view, AnswerCharts.Draw(view, slides: false), "figures");
                TakeAway.Write(html, view, content.Token);
            }

            html.Add($"</div>");
        });
    }

    /// <summary>A page of ours that only says something.</summary>
    public static byte[] Message(AnswerFrame frame, string title, string sentence)
    {
        ArgumentNullException.ThrowIfNull(frame);
        return Live(frame, title,
            html => html.Add($"""<h2>{title}</h2><p role="alert">{sentence}</p><p><a href="/">Ask a question</a></p>"""));
    }

    /// <summary>An answer as one file that asks nothing of anywhere.</summary>
    public static byte[] Snapshot(AnswerView view, int looks)
    {
        ArgumentNullException.ThrowIfNull(view);
        var title = AnswerWording.Title(view.Answer.Asked);
        var shell = PageShell.OfAnswer($"{title} · {view.Report.Pipeline}", AnswerWording.PaperFoot(view.Report.Invented));
        return Encoding.UTF8.GetBytes(shell.Write(html =>
        {
            Head(html, view.Report, "Snapshot of a question", []);
            html.Add($"""<main id="main"><p class="looks">{AnswerWording.Looks(looks)}</p>""");
            AnswerSection.Write(html, view, AnswerCharts.Draw(view, slides: false), "figures");
            html.Add($"</main>");
            Foot(html, view.Report);
        }));
    }

    /// <summary>A live page with a body.</summary>
    internal static byte[] Live(AnswerFrame frame, string title, Action<Html> body) =>
        Encoding.UTF8.GetBytes((PageShell.OfAnswer($"{title} · {frame.Pipeline}", AnswerWording.PaperFoot(frame.Invented)) with
        {
            IsLive = true,
            IsConfidential = true,
            Script = Script,
        }).Write(html =>
        {
            Head(html, frame, "Explore", [.. Contents]);
            html.Add($"""<main id="main">""");
            body(html);
            html.Add($"</main>");
            Foot(html, frame);
        }));

    private static void Head(Html html, AnswerFrame frame, string title, ImmutableArray<(string Link, string Title)> contents)
    {
        html.Add($"""<header class="masthead"><p class="stamp">{Wording.Audience(Audience.Department)}</p>""");
        if (frame.Invented)
            html.Add($"""<p class="stamp">invented data: no patient, hospital or event on this page exists</p>""");
        html.Add($"""<h1>{title}</h1><p class="lead">{frame.Pipeline} · records from {Wording.Span(frame.First, frame.Month)}"""
            + $""" · as known on {Wording.Date(frame.AsOf)}</p><p class="caution">For audit, teaching and improvement. """
            + $"""<strong>Not a medical device, not for bedside decisions, not for judging an individual.</strong> """
            + $"""Local policy and licensed clinical judgement come first.</p></header>""");
        if (contents.IsEmpty)
            return;
        html.Add($"""<nav aria-label="Pages"><ul>""");
        foreach (var (link, name) in contents)
            html.Add($"""<li><a href="{link}">{name}</a></li>""");
        html.Add($"</ul></nav>");
    }

    private static void Foot(Html html, AnswerFrame frame) =>
        html.Add($"<footer><p>Outcomes {frame.Version}. Definitions SHA-256 <code>{frame.DefinitionsHash}</code>.</p></footer>");
}
