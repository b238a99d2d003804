from tests.planner.world import damson_batch


def test_the_year_shows_each_vessel_and_how_many_are_wanted(as_maker, batch, bucket, jar):
    page = as_maker.get("/vessels/year/").content.decode()

    assert "What stands in each vessel" in page
    assert "How many open vessels are wanted at once" in page
    assert "How many closed vessels are wanted at once" in page


def test_the_year_of_a_house_without_vessels_says_the_next_step(as_maker):
    page = as_maker.get("/vessels/year/").content.decode()

    assert "No vessels yet" in page
    assert 'href="/vessels/add/"' in page


def test_the_list_and_the_batch_lead_to_the_year(as_maker, maker, bucket):
    batch = damson_batch(maker, vessels=[bucket])

    assert 'href="/vessels/year/"' in as_maker.get("/vessels/").content.decode()
    assert 'href="/vessels/year/"' in as_maker.get(batch.get_absolute_url()).content.decode()
