using System.Text;
using Outcomes.Records;

namespace Outcomes.Ingestion.Formats;

/// <summary>Text in another encoding, character by character: lines and everything in them stay as they are.</summary>
internal static class EncodedText
{
    private const int Chunk = 1 << 16;

    // Windows-1252 gives these bytes no character; a file that has them is in another encoding.
    private static readonly char[] Unassigned = ['\u0081', '\u008D', '\u008F', '\u0090', '\u009D'];

    public static Conversion Convert(SourceFormat format, Stream file, StreamWriter target, TableRequest request)
    {
        using var reader = new StreamReader(file, Strict(format), detectEncodingFromByteOrderMarks: false, Chunk, leaveOpen: true);
        var buffer = new char[Chunk];
        var first = true;
        try
        {
            for (var read = reader.Read(buffer); read > 0; read = reader.Read(buffer))
            {
                var text = buffer.AsSpan(0, read);
                if (format == SourceFormat.Windows1252 && text.ContainsAny(Unassigned)) throw Wrong(request.File);
                target.Write(first && text[0] == '\uFEFF' ? text[1..] : text);
                first = false;
            }
        }
        catch (DecoderFallbackException)
        {
            throw Wrong(request.File);
        }

        return new Conversion(request.Mapping.Table.Separator, request.Mapping.Table.HeaderRow, 0, null, []);
    }

    private static Encoding Strict(SourceFormat format) => format == SourceFormat.Windows1252
        ? CodePagesEncodingProvider.Instance.GetEncoding(1252, EncoderFallback.ExceptionFallback, DecoderFallback.ExceptionFallback)!
        : new UnicodeEncoding(format == SourceFormat.Utf16BigEndian, byteOrderMark: false, throwOnInvalidBytes: true);

    private static Failure Wrong(string file) =>
        new(ExitCode.Input, "the file holds bytes that its encoding does not have; export it as CSV UTF-8", file, rule: "wrong_encoding");
}
