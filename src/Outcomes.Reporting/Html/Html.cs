using System.Runtime.CompilerServices;
using System.Text;

namespace Outcomes.Reporting.Page;

/// <summary>Text that is HTML already: made here from literals or by the drawings, never from a value.</summary>
internal readonly record struct Markup(string Text);

/// <summary>
/// A page being written. Literals are markup; whatever stands in a hole goes through the one encoder, so that forgetting to
/// encode is not possible.
/// </summary>
internal sealed class Html
{
    private readonly StringBuilder _text = new(1 << 18);

    public Html Add([InterpolatedStringHandlerArgument("")] ref Writer writer)
    {
        _ = writer;
        return this;
    }

    public Html Add(Markup markup)
    {
        _text.Append(markup.Text);
        return this;
    }

    public override string ToString() => _text.ToString();

    /// <summary>Writes the literals and holes of an interpolated string into the page as they come.</summary>
    [InterpolatedStringHandler]
    internal readonly ref struct Writer
    {
        private readonly StringBuilder _to;

        public Writer(int literalLength, int formattedCount, Html html)
        {
            _ = literalLength + formattedCount;
            _to = html._text;
        }

        public void AppendLiteral(string literal) => _to.Append(literal);

        public void AppendFormatted(string? value) => Encode.Html(_to, value);

        public void AppendFormatted(Markup markup) => _to.Append(markup.Text);
    }
}
