using Outcomes.Reporting.Page;
using ScottPlot;
using SkiaSharp;

namespace Outcomes.Reporting.Drawings;

/// <summary>
/// A sheet of paper in pixels, origin top left, drawn on by ScottPlot's primitives. The same calls draw the SVG and the PNG.
/// </summary>
/// <remarks>
/// The primitives rather than a whole plot: axes, layout and autoscaling of a plot cost half of a run's drawing time and wrap
/// every mark in a clip path, three times the size on a page with twenty charts.
/// </remarks>
internal sealed class Sheet(SKCanvas canvas) : IDisposable
{
    private readonly Paint _paint = Paint.NewDisposablePaint();

    public void Dispose() => _paint.Dispose();

    /// <summary>Draws with the origin moved to a point and everything so many times larger.</summary>
    public void Within(double x, double y, double scale, Action<Sheet> draw)
    {
        canvas.Save();
        canvas.Translate((float)x, (float)y);
        canvas.Scale((float)scale);
        draw(this);
        canvas.Restore();
    }

    public void Line(double x1, double y1, double x2, double y2, Color color, float width = 1, LinePattern? pattern = null) =>
        Drawing.DrawLine(canvas, _paint, At(x1, y1), At(x2, y2), Style(color, width, pattern));

    /// <summary>Connected straight lines.</summary>
    public void Path(IReadOnlyList<(double X, double Y)> points, Color color, float width = 1)
    {
        if (points.Count > 1)
            Drawing.DrawLines(canvas, _paint, points.Select(point => At(point.X, point.Y)), Style(color, width, null));
    }

    public void Dot(double x, double y, float size, Color color, bool hollow)
    {
        var marker = new MarkerStyle(MarkerShape.FilledCircle, size, hollow ? Ink.Paper : color)
        {
            OutlineColor = color,
            OutlineWidth = hollow ? 1.6f : 0,
        };
        Drawing.DrawMarker(canvas, _paint, At(x, y), marker);
    }

    public void Box(double left, double top, double width, double height, Color fill, Color edge, float edgeWidth = 1)
    {
        var rectangle = new PixelRect((float)left, (float)(left + width), (float)(top + height), (float)top);
        Drawing.FillRectangle(canvas, rectangle, _paint, new FillStyle { Color = fill });
        Drawing.DrawRectangle(canvas, rectangle, _paint, Style(edge, edgeWidth, null));
    }

    /// <summary>A filled triangle whose tip is at a point.</summary>
    public void Tip(double x, double y, double dx, double dy, Color color)
    {
        const double Length = 9, Half = 4;
        using var path = new SKPath();
        path.MoveTo((float)x, (float)y);
        path.LineTo((float)(x - (dx * Length) - (dy * Half)), (float)(y - (dy * Length) + (dx * Half)));
        path.LineTo((float)(x - (dx * Length) + (dy * Half)), (float)(y - (dy * Length) - (dx * Half)));
        path.Close();
        Drawing.FillPath(canvas, _paint, path, new FillStyle { Color = color });
    }

    /// <summary>A filled square on its corner.</summary>
    public void Diamond(double x, double y, double half, Color color)
    {
        using var path = new SKPath();
        path.MoveTo((float)x, (float)(y - half));
        path.LineTo((float)(x + half), (float)y);
        path.LineTo((float)x, (float)(y + half));
        path.LineTo((float)(x - half), (float)y);
        path.Close();
        Drawing.FillPath(canvas, _paint, path, new FillStyle { Color = color });
    }

    public void Text(
        string text, double x, double y, float size, Color color, Alignment alignment = Alignment.MiddleLeft, bool bold = false) =>
        Label(text, size, color, alignment, bold).Render(canvas, At(x, y), _paint);

    /// <summary>A text that rises to its end, for labels below an axis.</summary>
    public void RisingText(string text, double x, double y, float size, Color color)
    {
        var label = Label(text, size, color, Alignment.MiddleRight, bold: false);
        label.Rotation = -60;
        label.Render(canvas, At(x, y), _paint);
    }

    private static LabelStyle Label(string text, float size, Color color, Alignment alignment, bool bold) => new()
    {
        Text = Encode.Visible(text),
        FontName = ReportFont.Family,
        FontSize = size,
        Bold = bold,
        ForeColor = color,
        Alignment = alignment,
        SubpixelText = true,
    };

    private static Pixel At(double x, double y) => new((float)x, (float)y);

    private static LineStyle Style(Color color, float width, LinePattern? pattern) =>
        new(width, color, pattern ?? LinePattern.Solid);
}
