using System.Text;
using Outcomes.Records;
using Outcomes.Reporting.Drawings;

namespace Outcomes.Reporting.Answers;

/// <summary>An answer as the files that one takes away.</summary>
public static class AnswerFiles
{
    public static byte[] Csv(AnswerView view)
    {
        ArgumentNullException.ThrowIfNull(view);
        using var stream = new MemoryStream();
        AnswerTable.Write(stream, view.Answer);
        return stream.ToArray();
    }

    public static byte[] Json(AnswerView view)
    {
        using var stream = new MemoryStream();
        AnswerJson.Write(stream, view);
        return stream.ToArray();
    }

    /// <summary>The first figure, with the font and the words that go with it.</summary>
    /// <exception cref="Failure">There is none (exit 2).</exception>
    public static byte[] Svg(AnswerView view) => Encoding.UTF8.GetBytes(Charts.WithFont(First(view).Slide));

    /// <inheritdoc cref="Svg"/>
    public static byte[] Png(AnswerView view) => [.. First(view).Png];

    private static Chart First(AnswerView view) => AnswerCharts.Draw(view, slides: true).FirstOrDefault()
        ?? throw new Failure(ExitCode.Usage, "this answer has no figure: too few records to draw");
}
