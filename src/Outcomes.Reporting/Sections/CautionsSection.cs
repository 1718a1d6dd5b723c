using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Records;

namespace Outcomes.Reporting.Page;

/// <summary>What the figures must not be used for: short at the top, in full at the end.</summary>
internal static class CautionsSection
{
    public static void Short(Html html, Figures model)
    {
        html.Add($"""
            <section class="caution" aria-labelledby="h-read"><h2 id="h-read">Read this first</h2>
            <p>For audit, teaching and improvement. <strong>Not a medical device, not for bedside decisions, not for judging an individual.</strong>
            Small numbers mislead: read every figure with its count and interval. Local policy, local information governance and licensed
            clinical judgement come first. <a href="#cautions">All cautions</a>.</p>
            """);
        if (!model.Assumptions.IsEmpty)
        {
            html.Add($"<p>This pipeline states, for records whose source does not collect it: ");
            html.Add($"{Assumptions(model.Assumptions, model.Titles)}");
            html.Add($". Figures that rest on it say so.</p>");
        }

        html.Add($"</section>\n");
    }

    /// <summary>One line for the head of the report.</summary>
    public static void Line(Html html, Figures model)
    {
        html.Add($"""<p class="caution">For audit, teaching and improvement. <strong>Not a medical device, not for bedside decisions, """
            + $"""not for judging an individual.</strong> Local policy and licensed clinical judgement come first. """
            + $"""<a href="#data">All cautions</a>.""");
        if (!model.Assumptions.IsEmpty)
            html.Add($" Stated for records whose source does not collect it: {Assumptions(model.Assumptions, model.Titles)}.");
        html.Add($"</p>");
    }

    /// <summary>The cautions in a line each.</summary>
    public static IEnumerable<string> Lines(Figures model) =>
    [
        "This report is for audit, teaching and improvement. It is not a medical device and gives no bedside advice.",
        "It does not judge a person: case mix, place, hour and help at hand differ.",
        "Small numbers mislead. One or two cases can move a percentage a lot.",
        "A verdict of change says that chance is an unlikely explanation, not why, and not whether the change is good.",
        "Published figures come from other patients and definitions. They are never a target.",
        "Local policy, information governance and licensed clinical judgement come first.",
        $"De-identified is not anonymous. Audience of this copy: {Wording.Audience(model.Audience)}.",
        .. model.Invented ? ["These records were made by a program, with changes planted in them to be found."] : Array.Empty<string>(),
    ];

    /// <summary>What the pipeline states, in words: <c>Urgency: emergency</c>.</summary>
    public static string Assumptions(IEnumerable<Assumption> assumptions, Titles titles) =>
        string.Join(", ", assumptions.Select(assumption =>
            $"{titles.Column(assumption.Field)}: {Readable.WithinSentence(titles.Level(assumption.Field, assumption.Value))}"));

    public static void Full(Html html, Figures model)
    {
        html.Add($"""
            <section aria-labelledby="cautions"><h2 id="cautions">Cautions</h2>
            <ul class="prose">
            <li><strong>What it is for.</strong> Audit, teaching and improvement within a department. It is not a medical device and gives no
            advice at the bedside or for a patient in care.</li>
            <li><strong>Not about a person.</strong> The records cannot tell what one operator did well or badly: case mix, place, hour and
            help at hand differ. No figure here ranks or judges an individual, and none should be used to.</li>
            <li><strong>Small numbers mislead.</strong> A department sees few of these procedures. A change of one or two cases moves a
            percentage a lot; intervals show how much is uncertain from numbers alone, and not the bias of missing or wrong records.</li>
            <li><strong>A verdict of change is a question.</strong> It says that chance is an unlikely explanation, not why a series changed,
            and not whether that is good. No sign of change does not show that nothing changed.</li>
            <li><strong>Published figures are context.</strong> They come from other patients, places and definitions: never a target.</li>
            <li><strong>Who comes first.</strong> Local policy, local information governance and licensed clinical judgement.</li>
            <li><strong>De-identified is not anonymous.</strong> Counts this small can point at people: this copy is for
            {Wording.Audience(model.Audience)}.</li>
            """);
        if (model.Invented)
            html.Add($"<li><strong>Invented data.</strong> These records were made by a program, "
                + $"with changes planted in them to be found.</li>");
        html.Add($"</ul></section>\n");
    }
}
