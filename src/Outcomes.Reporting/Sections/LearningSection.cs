using Outcomes.Analysis;

namespace Outcomes.Reporting.Page;

/// <summary>What the last review meeting learned, so that a month later somebody asks whether it was taken up.</summary>
internal static class LearningSection
{
    public const string Id = "learning";

    private const int MostPoints = 5;

    public static void Write(Html html, Figures model)
    {
        if (model.Learning is not { } learning)
            return;
        html.Add($"""<section aria-labelledby="{Id}"><h2 id="{Id}">{ActionWording.LearningTitle}</h2>""");
        Points(html, learning);
        html.Add($"</section>\n");
    }

    /// <summary>The same under a smaller heading, for the next meeting.</summary>
    public static void WriteShort(Html html, Figures model)
    {
        if (model.Learning is not { } learning)
            return;
        html.Add($"<h3>{ActionWording.LearningTitle}</h3>");
        Points(html, learning);
    }

    private static void Points(Html html, MeetingLearning learning)
    {
        html.Add($"<p>{ActionWording.Learned(learning, MostPoints)}</p><ul class=\"prose\">");
        foreach (var point in learning.Points.Take(MostPoints))
            html.Add($"<li>{point}</li>");
        html.Add($"</ul>");
    }
}
