using System.Security.Cryptography;
using System.Text;

namespace Outcomes.Reporting.Page;

/// <summary>
/// The frame of every HTML page: one file that asks nothing of anywhere, with a policy that lets the browser ask nothing either.
/// </summary>
/// <param name="Title">What the browser's tab says.</param>
/// <param name="Style">Its styles.</param>
internal sealed record PageShell(string Title, string Style)
{
    private static readonly Lazy<string> Report = new(() => Text("report.css"));

    private static readonly Lazy<string> Cases = new(() => Text("cases.css"));

    /// <summary>
    /// True for a page with drawings: it brings the fonts with it, and its elements may have styles of their own. Any other page may use
    /// its own style and script and nothing else.
    /// </summary>
    public bool HasDrawings { get; private init; }

    /// <summary>True for a page of <c>outcomes explore</c>, which asks its own server alone and sends forms to it.</summary>
    public bool IsLive { get; init; }

    /// <summary>What its link for keyboards skips to; null where it has none.</summary>
    public string? SkipsTo { get; init; }

    /// <summary>True where no search engine should list it.</summary>
    public bool IsConfidential { get; init; }

    /// <summary>Its script; null where it has none.</summary>
    public string? Script { get; init; }

    /// <summary>A page of figures.</summary>
    /// <param name="title">What the browser's tab says.</param>
    /// <param name="foot">What stands at the foot of every printed page, beside its number.</param>
    public static PageShell OfReport(string title, string foot) =>
        new(title, FontFaces.Css.Value + Report.Value + Foot(foot)) { HasDrawings = true, SkipsTo = "figures" };

    /// <summary>A page of cases.</summary>
    /// <param name="title">What the browser's tab says.</param>
    /// <param name="foot">What stands at the foot of every printed page, beside its number.</param>
    public static PageShell OfCases(string title, string foot) =>
        new(title, FontFaces.Css.Value + Report.Value + Cases.Value + Foot(foot))
        {
            HasDrawings = true,
            SkipsTo = "cases",
            IsConfidential = true,
        };

    /// <summary>A page of figures with more styles.</summary>
    public static PageShell OfAnswer(string title, string foot) =>
        new(title, FontFaces.Css.Value + Report.Value + Text("explore.css") + Foot(foot)) { HasDrawings = true, SkipsTo = "answer" };

    /// <summary>The whole page.</summary>
    /// <param name="body">Writes what it shows.</param>
    public string Write(Action<Html> body)
    {
        // The policy's hashes are over what stands between the tags.
        var (style, script) = ("\n" + Style, Script is null ? null : "\n" + Script);
        var html = new Html();
        html.Add($"""
            <!DOCTYPE html>
            <html lang="en">
            <head>
            <meta charset="utf-8">
            <meta name="viewport" content="width=device-width, initial-scale=1">
            <meta http-equiv="Content-Security-Policy" content="{new Markup(Policy(style, script))}">
            <meta name="referrer" content="{(IsLive ? "same-origin" : "no-referrer")}">

            """);
        if (IsConfidential)
            html.Add($"""<meta name="robots" content="noindex">{"\n"}""");
        html.Add($"""
            <title>{Title}</title>
            <style>{new Markup(style)}</style>
            </head>
            <body>

            """);
        if (SkipsTo is not null)
            html.Add($"""<a class="skip" href="#main">Skip to the {SkipsTo}</a>{"\n"}""");
        body(html);
        if (script is not null)
            html.Add($"<script>{new Markup(script)}</script>\n");
        html.Add($"</body>\n</html>\n");
        return html.ToString();
    }

    /// <summary>What a page of <c>outcomes explore</c> with a script of ours may do.</summary>
    public static string LivePolicy(string script) => "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:; "
        + $"script-src '{Hash("\n" + script)}'; connect-src 'self'; form-action 'self'; base-uri 'none'";

    private string Policy(string style, string? script) => IsLive ? LivePolicy(Script ?? "")
        : HasDrawings
        ? "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:"
        : $"default-src 'none'; {(script is null ? "" : $"script-src '{Hash(script)}'; ")}style-src '{Hash(style)}'; base-uri 'none'; "
            + "form-action 'none'";

    private static string Foot(string text) =>
        "@page{@bottom-left{content:\"" + text + "\"}@bottom-right{content:counter(page) \" of \" counter(pages)}}\n";

    private static string Hash(string text) => "sha256-" + Convert.ToBase64String(SHA256.HashData(Encoding.UTF8.GetBytes(text)));

    private static string Text(string name) => Encoding.UTF8.GetString(EmbeddedFile.Bytes(name));
}
