namespace Outcomes.Reporting.Drawings;

/// <summary>
/// A chart on a slide of 16 to 9: 960 by 540 units, a picture of 1920 by 1080 pixels. The chart stands inside a margin; under it the two
/// lines that go with a picture which has left its report. Words are at least a thirty-sixth of the height (15 units) on run charts; other
/// charts are scaled to fit.
/// </summary>
internal static class Slide
{
    public const int FrameWidth = 960, FrameHeight = 540;

    /// <summary>Pixels of the picture for a unit.</summary>
    public const float Scale = 2;

    /// <summary>Room for the chart inside the margins, above the lines at the foot.</summary>
    public const double Width = FrameWidth - (2 * Margin), Height = FrameHeight - (2 * Margin) - FootLines;

    private const double Margin = 32, FootLine = 20, FootLines = 6 + (2 * FootLine);

    /// <summary>A title in one line: large, and smaller where it is long.</summary>
    public static float TitleSize(string title) => (float)Math.Clamp(Width / (Math.Max(title.Length, 1) * 0.56), 15, 26);

    /// <summary>A chart that is drawn for the slide's own room.</summary>
    public static Action<Sheet> Of(Action<Sheet> draw, string foot) => sheet =>
    {
        sheet.Within(Margin, Margin, 1, draw);
        var lines = foot.Split('\n');
        foreach (var (i, line) in lines.Index())
            sheet.Text(line, Margin, FrameHeight - Margin + 2 - ((lines.Length - 1 - i) * FootLine), 15, Ink.Quiet);
    };

    /// <summary>A chart that is drawn for a page, as large as the room allows, in its middle.</summary>
    public static Action<Sheet> Of(Action<Sheet> draw, int width, int height, string foot)
    {
        var scale = Math.Min(Width / width, Height / height);
        return Of(sheet => sheet.Within((Width - (width * scale)) / 2, (Height - (height * scale)) / 2, scale, draw), foot);
    }
}
