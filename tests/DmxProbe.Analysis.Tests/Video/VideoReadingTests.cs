using DmxProbe.Analysis.Video;
using DmxProbe.Testing.Rigs;

namespace DmxProbe.Analysis.Tests.Video;

/// <summary>What the video programs say, read, cut and spoilt.</summary>
public class VideoReadingTests
{
    private const string Probe = """
        {"streams":[{"codec_type":"audio"},{"codec_type":"video","width":1920,"height":1080,"avg_frame_rate":"30000/1001","color_transfer":"arib-std-b67",
        "disposition":{"attached_pic":0},"side_data_list":[{"rotation":-90}],"tags":{"creation_time":"2026-03-14T19:41:00.000000Z"}}],
        "format":{"duration":"61.5","tags":{"com.apple.quicktime.creationdate":"2026-03-14T20:41:02+0100"}}}
        """;

    [Fact]
    public void A_turned_video_has_its_sides_as_shown_its_rate_its_curve_and_its_own_time()
    {
        VideoFacts facts = VideoFactsReader.Read(Probe)!;
        Assert.Equal((1080, 1920), (facts.Width, facts.Height));
        Assert.Equal(29.97, facts.PicturesPerSecond, 0.001);
        Assert.Equal(61.5, facts.Seconds);
        Assert.Same(ToneCurve.HybridLogGamma, facts.Curve);
        Assert.Equal("2026-03-14T19:41:02.000000000Z", facts.Created.ToString());
        Assert.True(facts.HasSound);
    }

    [Fact]
    public void A_picture_on_the_cover_of_a_sound_file_is_no_video()
    {
        VideoFacts facts = VideoFactsReader.Read("""{"streams":[{"codec_type":"audio"},{"codec_type":"video","width":300,"height":300,"disposition":{"attached_pic":1}}]}""")!;
        Assert.False(facts.HasPictures);
        Assert.True(facts.HasSound);
    }

    [Fact]
    public void Cut_and_spoilt_descriptions_never_throw()
    {
        for (int length = 0; length <= Probe.Length; length++)
        {
            _ = VideoFactsReader.Read(Probe[..length]);
        }

        RigRandom random = new(7);
        for (int round = 0; round < 5000; round++)
        {
            char[] text = Probe.ToCharArray();
            for (int i = 0; i < 4; i++)
            {
                text[random.Below(text.Length)] = (char)(32 + random.Below(96));
            }

            _ = VideoFactsReader.Read(new string(text));
        }

        Assert.Null(VideoFactsReader.Read("[]"));
        Assert.Null(VideoFactsReader.Read("null"));
        Assert.False(VideoFactsReader.Read("{\"streams\":{},\"format\":7}")!.HasPictures);
    }

    [Fact]
    public void Picture_times_are_whole_ticks_from_the_first_picture()
    {
        PictureTimes times = new();
        Assert.True(times.Add("[Parsed_showinfo_2 @ 0x55] config in time_base: 1/15360, frame_rate: 30/1"));
        Assert.True(times.Add("[Parsed_showinfo_2 @ 0x55] n:   0 pts:   1024 pts_time:0.0666667 pos:  48 fmt:rgb24"));
        Assert.True(times.Add("[Parsed_showinfo_2 @ 0x55] color_range:pc color_space:gbr"));
        Assert.True(times.Add("[Parsed_showinfo_2 @ 0x55] n:   1 pts: 18963968 pts_time:1234.63 pos:  48 fmt:rgb24"));
        Assert.True(times.Add("[Parsed_showinfo_2 @ 0x55] n:   2 pts:   NOPTS pts_time:NOPTS pos:  48"));
        Assert.False(times.Add("Error while decoding stream #0:0"));
        Assert.Equal(3, times.Count);
        Assert.Equal(0, times[0]);
        Assert.Equal((18963968 - 1024) / 15360.0, times[1], 1e-9);
        Assert.True(double.IsNaN(times[2]));
    }

    [Theory]
    [InlineData("1,2,3,4", true)]
    [InlineData(" 1, 2 ,3,4", true)]
    [InlineData("1,2,3", false)]
    [InlineData("1,2,0,4", false)]
    [InlineData("-1,2,3,4", false)]
    [InlineData("1,2,3,4,5", false)]
    [InlineData("1.5,2,3,4", false)]
    [InlineData("", false)]
    [InlineData("2147483648,2,3,4", false)]
    public void A_region_is_four_whole_numbers(string text, bool good) => Assert.Equal(good, PictureRegion.TryParse(text, out _));

    [Fact]
    public void A_region_beyond_the_picture_is_seen_even_where_its_sum_is_too_large()
    {
        Assert.False(new PictureRegion(int.MaxValue, 0, int.MaxValue, 1).IsWithin(100, 100));
        Assert.True(new PictureRegion(90, 90, 10, 10).IsWithin(100, 100));
        Assert.Equal(new PictureRegion(9, 9, 1, 1), new PictureRegion(99, 99, 1, 1).Scaled(100, 100, 10, 10));
    }
}
